"""What comes unasked and when: reminders and summaries as rows with the moment they are due next.

`times` says when a local time comes round, `arranging` keeps the rows in step with what people have set, `sweeping`
takes what is due. A clock only ticks the sweep; nothing is remembered outside the database.
"""
