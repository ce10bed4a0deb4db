"""``make bench``: every benchmark, one table, written at the head of docs/performance.md.

    python -m benchmarks [--quick | --long] [--only NAME …] [--dry]
    python -m benchmarks --prepare

Preparing makes the pictures and books that are kept outside the checkout, and makes those books up
to date; else that is done on the way, takes some minutes after a change of the program, and is not
counted. Each part gives rows of the one table and lines of its own. One that fails says so in the
table, and does not stop the others.
"""

from __future__ import annotations

import argparse
import time
import traceback
from importlib import import_module

from benchmarks.report import describe_machine, warn_of_others, write_part, write_picture
from benchmarks.rows import Effort, Failed, Part, Row, tell_rows

PARTS = (
    "reading",
    "whole_book",
    "sizes",
    "previews",
    "planner",
    "maps",
    "arrangements",
    "washes",
    "starting",
    "install",
)
"""Modules of this package, each with a ``report``."""
MORE = ("layout",)
"""Those that take part only where all is measured, or where they are asked for."""


def main() -> None:
    """Measure, print and write."""
    asked = read_arguments()
    if asked.prepare:
        prepare()
        return
    effort = Effort.QUICK if asked.quick else Effort.LONG if asked.long else Effort.USUAL
    head = describe_machine() + warn_of_others()
    keep = not (asked.dry or asked.quick)
    rows: list[Row | Failed] = []
    took = []
    for name in asked.only or (*PARTS, *(MORE if asked.long else ())):
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
    parser.add_argument(
        "--only", nargs="+", choices=(*PARTS, *MORE), help="some parts, without the table"
    )
    parser.add_argument("--prepare", action="store_true", help="make what is kept, and end")
    parser.add_argument("--dry", action="store_true", help="print only; the report stays as it is")
    return parser.parse_args()


def prepare() -> None:
    """Make the pictures and books that are measured with, as far as they are not there."""
    from benchmarks import previews, reading, sizes, starting
    from benchmarks.many_pictures import make_book, open_book
    from benchmarks.pictures import make_pictures

    make_pictures(reading.ALL)
    for count in {*previews.COUNTS[Effort.USUAL], starting.COUNT[Effort.USUAL]}:
        open_book(make_book(count))
    for size in sizes.SIZES[Effort.USUAL]:
        sizes.keep_book(size, Effort.USUAL)


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
