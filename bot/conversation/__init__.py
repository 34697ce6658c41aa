"""Turns meanings into records, questions and replies; one package for each topic."""
