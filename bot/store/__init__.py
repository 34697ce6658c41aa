"""What Tarebook remembers: the tables, and the questions asked of them.

`engine` opens a database and gives transactions; `people` finds out who is speaking; `Books` (in `books`) stands for
one person's records during one message, and every function about records takes it first. `inbox` and `outbox` hold
what came in and what goes out; `weighins`, `batches`, `facts` and `questions` hold the records; `journal` knows what
each message changed, so that it can be taken back.

The store never decides: it writes what it is told and answers what it is asked. It never looks at a clock either;
every moment comes in as an aware datetime and is kept in UTC.
"""
