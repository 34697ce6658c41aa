"""Frames: what is told in an order that nobody wrote down."""
