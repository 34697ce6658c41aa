"""Telegram: updates are stored before they are confirmed, and what is sent comes from the outbox.

`polling` and `webhook` get updates, `reading` parses one, `intake` puts it into the inbox, `sending` sends what is in
the outbox within `rate_limits`, `rendering` gives it its shape, `menus` publishes the commands, `leadership` decides
which process does what only one may do, `scheduler` triggers what is due, `heartbeat` notices outages, `monitor` shows
how it goes, and `serving` runs them all in one process.
"""

CHANNEL = "telegram"
