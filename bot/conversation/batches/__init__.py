"""Batches: opening, cooking, portions, and what is left."""
