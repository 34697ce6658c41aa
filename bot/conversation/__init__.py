"""From what was meant to records, questions and replies; one package a topic."""
