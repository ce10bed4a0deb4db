"""Writes what was measured, as Markdown, into docs/performance.md."""

from __future__ import annotations

import os
import platform
from collections.abc import Sequence
from pathlib import Path

from benchmarks.measure import Taken

REPORT = Path(__file__).parent.parent / "docs" / "performance.md"
GAPS = {
    "Reading photographs": "starting, opening the book",
    "Preparing pictures for print": "trip, story, plan, words, layout",
    "Writing the files": "the checks",
    "end": "notes for the next make",
}
"""What is done before a piece of work of this name, without a bar of its own."""


def describe_machine() -> str:
    """Name the machine in general terms."""
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 1e9
    return (
        f"{platform.system()}, {os.cpu_count()} cores, {memory:.0f} GB of memory, "
        f"Python {platform.python_version()}."
    )


def tell_table(rows: Sequence[tuple[str, Taken, str, str]]) -> list[str]:
    """Give a Markdown table; ratios are to the first row, in wall and in processor time."""
    first = rows[0][1]
    lines = [
        "| what | seconds | × floor | goal | processor s | × floor "
        "| peak MB, all | goal | peak MB, one |",
        "|---|--:|--:|---|--:|--:|--:|---|--:|",
    ]
    for what, taken, time_goal, memory_goal in rows:
        lines.append(
            f"| {what} | {taken.wall_s:.2f} | {taken.wall_s / first.wall_s:.2f} | {time_goal} "
            f"| {taken.processor_s:.2f} | {taken.processor_s / first.processor_s:.2f} "
            f"| {taken.peak_mb:.0f} | {memory_goal} | {taken.largest_mb:.0f} |"
        )
    return lines


def tell_timeline(rows: Sequence[tuple[str, float, float]]) -> list[str]:
    """Give a Markdown table of the pieces of one make, in the order they began."""
    lines = [
        "| where the time of the whole book goes | from s | to s | seconds |",
        "|---|--:|--:|--:|",
    ]
    done = 0.0
    for label, start, end in sorted(rows, key=lambda r: r[1]):
        if start - done > 0.05:
            name = GAPS.get(label, f"before: {label}")
            lines.append(f"| *{name}* | {done:.1f} | {start:.1f} | {start - done:.1f} |")
        if end - start > 0.05:
            lines.append(f"| {label} | {start:.1f} | {end:.1f} | {end - start:.1f} |")
        done = max(done, end)
    return lines


def write_part(name: str, lines: Sequence[str]) -> None:
    """Put ``lines`` between the marks of that name in the report, whose other words stay."""
    begin, end = f"<!-- {name} -->", f"<!-- /{name} -->"
    text = REPORT.read_text("utf-8") if REPORT.is_file() else "# Performance\n"
    if begin not in text:
        text += f"\n{begin}\n{end}\n"
    head, rest = text.split(begin, 1)
    _, tail = rest.split(end, 1)
    REPORT.write_text("\n".join([f"{head}{begin}", *lines, f"{end}{tail}"]), "utf-8")
