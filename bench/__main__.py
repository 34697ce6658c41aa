"""Runs the named benchmarks, or all of them."""

from __future__ import annotations

import argparse
import importlib
import os
import platform
import sqlite3
import sys

BENCHES = ("weighins", "serving", "sheets", "sweep", "growth", "workers", "startup", "understanding")
ON_REQUEST = ("memory",)
"""Takes a quarter of an hour."""


def main() -> int:
    """Prints the tables of each benchmark. Returns 0."""
    parser = argparse.ArgumentParser(prog="python -m bench", description="Measure how fast Tarebook is.")
    everything = (*BENCHES, *ON_REQUEST)
    named = f"which: {', '.join(everything)} (default: all but {', '.join(ON_REQUEST)})"
    parser.add_argument("names", nargs="*", metavar="NAME", help=named)
    names = parser.parse_args().names or BENCHES
    unknown = sorted(set(names) - set(everything))
    if unknown:
        parser.error(f"no benchmark is called {', '.join(unknown)}; there are {', '.join(everything)}")
    print(f"Python {platform.python_version()}, SQLite {sqlite3.sqlite_version}, {os.cpu_count()} cores")
    for name in names:
        for table in importlib.import_module(f"bench.{name}").tables():
            print(f"\n{table.text()}", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
