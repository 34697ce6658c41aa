"""Questions that wait, and how an answer is taken."""
