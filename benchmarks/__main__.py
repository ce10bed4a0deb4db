"""``make bench``: every benchmark, one table, written at the head of docs/performance.md.

    python -m benchmarks [--quick | --long] [--only NAME …] [--dry]

Each part gives rows of the one table and lines of its own. One that fails says so in the table, and
does not stop the others.
"""

from __future__ import annotations

import argparse
import time
import traceback
from importlib import import_module

from benchmarks.report import describe_machine, warn_of_load, write_part, write_picture
from benchmarks.rows import Effort, Failed, Part, Row, tell_rows

PARTS = (
    "reading",
    "whole_book",
    "sizes",
    "previews",
    "planner",
    "maps",
    "layout",
    "arrangements",
    "washes",
    "starting",
    "install",
)
"""Modules of this package, each with a ``report``."""


def main() -> None:
    """Measure, print and write."""
    asked = read_arguments()
    effort = Effort.QUICK if asked.quick else Effort.LONG if asked.long else Effort.USUAL
    head = describe_machine() + warn_of_load()
    keep = not (asked.dry or asked.quick)
    rows: list[Row | Failed] = []
    took = []
    for name in asked.only or PARTS:
        print(f"{name} …", flush=True)
        began = time.monotonic()
        found = measure(name, effort)
        seconds = time.monotonic() - began
        took.append(f"{name.replace('_', ' ')} {seconds:.0f} s")
        if isinstance(found, Failed):
            rows.append(found)
            continue
        rows += found.rows
        if found.lines and keep:
            measured = ("", head) if asked.only else ()  # else the table above says where
            write_part(name.replace("_", " "), (*found.lines, *measured))
            for picture, svg in found.pictures.items():
                write_picture(picture, svg)
        print("\n".join(("", *found.lines, "")), flush=True)
    lines = [head, "", *tell_rows(rows), "", f"Measuring took: {', '.join(took)}."]
    print("\n".join(lines))
    if keep and not asked.only:
        write_part("all", lines)


def read_arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m benchmarks", description="Measure everything.")
    parser.add_argument(
        "--quick", action="store_true", help="small sizes, to see that all runs; nothing is kept"
    )
    parser.add_argument("--long", action="store_true", help="all sizes, more rounds")
    parser.add_argument("--only", nargs="+", choices=PARTS, help="some parts, without the table")
    parser.add_argument("--dry", action="store_true", help="print only; the report stays as it is")
    return parser.parse_args()


def measure(name: str, effort: Effort) -> Part | Failed:
    """Give what a part finds, or why it did not."""
    try:
        module = import_module(f"benchmarks.{name}")
        part: Part = module.report(effort)
    except (Exception, SystemExit) as error:
        traceback.print_exc()
        return Failed(name.replace("_", " "), f"{type(error).__name__}: {error}")
    return part


if __name__ == "__main__":
    main()
