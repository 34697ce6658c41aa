"""Benchmarks: `make bench`, or `python -m bench NAME…`. Results are in docs/performance.md.

Each module here measures one thing: its `tables()` measures and returns what to print. `bench.__main__` lists them.
"""
