"""The doors people come in by. Each stores what was said, has it handled, and shows the answers; none computes."""
