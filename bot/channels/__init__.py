"""The channels: each stores what was said, has it handled and shows the replies; it decides nothing."""
