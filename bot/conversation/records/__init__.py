"""Weigh-ins: judging, recording, correcting, undoing."""
