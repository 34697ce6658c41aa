"""Runs the benchmarks named, or all."""

from __future__ import annotations

import argparse
import importlib
import os
import platform
import sqlite3
import sys

BENCHES = ("weighins", "serving", "sheets", "sweep", "growth", "startup", "understanding")


def main() -> int:
    """Prints one table after the other; returns 0."""
    parser = argparse.ArgumentParser(prog="python -m bench", description="Measure how fast Tarebook is.")
    parser.add_argument("names", nargs="*", metavar="NAME", help=f"which: {', '.join(BENCHES)} (default: all)")
    names = parser.parse_args().names or BENCHES
    unknown = sorted(set(names) - set(BENCHES))
    if unknown:
        parser.error(f"no benchmark is called {', '.join(unknown)}; there are {', '.join(BENCHES)}")
    print(f"Python {platform.python_version()}, SQLite {sqlite3.sqlite_version}, {os.cpu_count()} cores")
    for name in names:
        for table in importlib.import_module(f"bench.{name}").tables():
            print(f"\n{table.text()}", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
