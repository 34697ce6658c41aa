"""Telegram: what arrives is stored before it is confirmed, what goes out comes from the outbox.

`reading` makes sense of one update, `intake` keeps it and decides who may speak, `polling` and `webhook` bring updates
in, `sending` takes answers out, `rendering` gives them their shape, `menus` tells which commands there are, `monitor`
shows how it goes, and `serving` runs them all in one process.
"""

CHANNEL = "telegram"
