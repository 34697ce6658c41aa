"""Scheduled notifications: reminders and summaries are rows with the moment they are due next.

`times` says when a local time occurs, `arranging` keeps the rows in step with what people have set, `sweeping` takes
what is due. A timer only triggers the sweep; all state is in the database.
"""
