"""One module a step, named by its number."""
