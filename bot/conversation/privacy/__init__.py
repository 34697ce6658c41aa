"""The person's own data: what is kept, export, import, erasure."""
