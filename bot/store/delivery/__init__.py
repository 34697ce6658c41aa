"""From a channel to a channel: updates as they came, the inbox of messages to handle, the outbox of what is to be sent.

`updates` holds what a server delivered until it is read, `inbox` one row for each message of a person, `outbox` one row
for each text to send, and `lease` says which process works for a channel and when it last heard from its server.
"""
