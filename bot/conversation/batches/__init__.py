"""Batches: opened, cooked, portioned, emptied."""
