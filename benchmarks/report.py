"""Writes what was measured, as Markdown, into docs/performance.md."""

from __future__ import annotations

import contextlib
import os
import platform
import time
from collections.abc import Sequence
from pathlib import Path

REPORT = Path(__file__).parent.parent / "docs" / "performance.md"
QUIET, LOOK_S = 0.05, 2.0


def describe_machine() -> str:
    """Say what the machine is made of."""
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 1e9
    return (
        f"{platform.system()}, {os.cpu_count()} cores{_name_processor()}, {memory:.0f} GB of "
        f"memory, {_describe_disk(Path.home())}, Python {platform.python_version()}."
    )


def _name_processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text().splitlines()
    except OSError:
        return ""
    names = [line.partition(":")[2].strip() for line in lines if line.startswith("model name")]
    return f" ({names[0]})" if names else ""


def _describe_disk(place: Path) -> str:
    """Say what kind of disk ``place`` lies on (Linux, sysfs)."""
    device = place.stat().st_dev
    block = Path(f"/sys/dev/block/{os.major(device)}:{os.minor(device)}").resolve()
    if block.name.startswith(("vd", "xvd")):
        return "a virtual disk"  # whether it turns it cannot know
    for folder in (block, block.parent):  # a partition has its disk above it
        with contextlib.suppress(OSError):
            turns = (folder / "queue" / "rotational").read_text().strip() == "1"
            return "a disk that turns" if turns else "a disk that does not turn"
    return "a disk of unknown kind"


def warn_of_others() -> str:
    """Say that the machine had other work, where it had; else nothing.

    Looked at while this process sleeps: the load average also tells of what it did before.
    """
    before = _read_processors()
    time.sleep(LOOK_S)
    busy, whole = (now - then for now, then in zip(_read_processors(), before, strict=True))
    if busy <= QUIET * whole:
        return ""
    return (
        f" **The machine was busy** (others took {busy / whole:.0%} of its processors at the "
        "beginning): seconds that passed, and ratios of them, are of little worth."
    )


def _read_processors() -> tuple[int, int]:
    """Give the ticks that all processors worked so far, and all that went by (Linux, proc(5))."""
    user, nice, system, idle, waiting, *more = map(
        int, Path("/proc/stat").read_text().splitlines()[0].split()[1:]
    )
    worked = user + nice + system + sum(more[:3])
    return worked, worked + idle + waiting


def write_part(name: str, lines: Sequence[str]) -> None:
    """Put ``lines`` between the marks of that name in the report, whose other words stay."""
    begin, end = f"<!-- {name} -->", f"<!-- /{name} -->"
    text = REPORT.read_text("utf-8") if REPORT.is_file() else "# Performance\n"
    if begin not in text:
        text += f"\n{begin}\n{end}\n"
    head, rest = text.split(begin, 1)
    _, tail = rest.split(end, 1)
    REPORT.write_text("\n".join([f"{head}{begin}", *lines, f"{end}{tail}"]), "utf-8")


def write_picture(name: str, svg: str) -> None:
    """Put a picture beside the report."""
    path = REPORT.parent / "pictures" / name
    path.parent.mkdir(exist_ok=True)
    path.write_text(svg, "utf-8")
