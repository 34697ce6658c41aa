"""How fast the program is: `make bench`, or `python -m bench NAME…`.

Each module here measures one thing: its `tables()` measures and returns what to print. `bench.__main__` lists them.
"""
