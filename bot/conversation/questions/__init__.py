"""Waiting questions and their answers."""
