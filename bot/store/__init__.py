"""The database: its tables, and the queries on them.

`engine` opens a database and gives transactions; `people` knows who is speaking; `Books` (in `books`) stands for one
person's records during one message, and every function about records takes it first. `delivery` holds updates, the
inbox and the outbox; `weighins`, `batches`, `facts` and `questions` hold the records; `journal` knows what each message
changed, so that it can be undone. `ownership` exports, imports and erases one person's data, `maintenance` works on
whole databases.

The store never decides: it writes what it is told and answers what it is asked. It never reads a clock
either: every moment is passed in as an aware datetime and stored in UTC.
"""
