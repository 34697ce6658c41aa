"""Shared kitchens: members, rooms, and announcements about batches."""
