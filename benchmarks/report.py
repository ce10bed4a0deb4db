"""Writes what was measured, as Markdown, into docs/performance.md."""

from __future__ import annotations

import contextlib
import os
import platform
from collections.abc import Sequence
from pathlib import Path

REPORT = Path(__file__).parent.parent / "docs" / "performance.md"
QUIET_LOAD = 1.5


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


def warn_of_load() -> str:
    """Say that the machine had other work, where it had; else nothing."""
    load = os.getloadavg()[0]
    if load <= QUIET_LOAD:
        return ""
    return (
        f" **The machine was busy** (load {load:.1f} at the beginning): seconds that passed, and "
        "ratios of them, are of little worth."
    )


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
