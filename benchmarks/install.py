"""What the default install weighs, and what its heavy parts take to load.

``python -m benchmarks.install`` prints it, and times a whole install into a new environment, out of
what the installer keeps of earlier ones or fetches. The floor of the weight is Python's own
library, that of loading a Python that starts and ends.
"""

from __future__ import annotations

import statistics
import sys
import sysconfig
import tempfile
import time
import venv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.metadata import Distribution, distribution, packages_distributions
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from benchmarks.measure import run
from benchmarks.rows import Effort, Part, Row

GOAL_MB, LISTED, ROUNDS = 400.0, 12, 3
ROOT = Path(__file__).parent.parent


@dataclass(frozen=True, slots=True)
class Weighed:
    """A distribution of the default install."""

    name: str
    version: str
    megabytes: float
    modules: tuple[str, ...]


def report(effort: Effort) -> Part:  # noqa: ARG001
    """Weigh the install, and load what is heaviest."""
    weighed = sorted(weigh_all("wayfold"), key=lambda w: -w.megabytes)
    total = sum(w.megabytes for w in weighed)
    floor = weigh_python()
    row = Row(
        f"Default install on disk, {len(weighed)} packages", total, floor,
        "Python's own library", "MB", most=GOAL_MB,
    )  # fmt: skip
    return Part((row,), tuple(tell(weighed)))


def weigh_all(name: str) -> Iterator[Weighed]:
    """Weigh a distribution and all it needs, without extras."""
    homes: dict[str, list[str]] = {}
    for module, names in packages_distributions().items():
        for home in names:
            homes.setdefault(canonicalize_name(home), []).append(module)
    waiting, met = [name], set[str]()
    while waiting:
        found = distribution(waiting.pop())
        own = canonicalize_name(found.metadata["Name"])
        if own in met:
            continue
        met.add(own)
        modules = sorted(m for m in homes.get(own, []) if m.isidentifier())
        yield Weighed(own, found.version, weigh(found), tuple(modules))
        needed = (Requirement(text) for text in found.requires or ())
        waiting += [r.name for r in needed if r.marker is None or r.marker.evaluate({"extra": ""})]


def weigh(found: Distribution) -> float:
    """Give the megabytes of a distribution's files; of Wayfold those of its package."""
    if canonicalize_name(found.metadata["Name"]) == "wayfold":  # it may be installed as a checkout
        files = [p for p in (ROOT / "src" / "wayfold").rglob("*") if "__pycache__" not in p.parts]
    else:
        files = [Path(str(found.locate_file(file))) for file in found.files or ()]
    return sum(path.stat().st_size for path in files if path.is_file()) / 1e6


def weigh_python() -> float:
    """Give the megabytes of Python's own library."""
    home = Path(sysconfig.get_paths()["stdlib"])
    others = {"site-packages", "dist-packages", "__pycache__", "test"}
    files = (p for p in home.rglob("*") if not others & set(p.parts) and p.is_file())
    return sum(path.stat().st_size for path in files) / 1e6


def tell(weighed: list[Weighed]) -> Iterator[str]:
    yield "## What is installed"
    yield ""
    yield (
        "Sizes of the files that each package names; seconds of the processor that a fresh Python "
        f"takes to load it, less those of an empty one, medians of {ROUNDS}."
    )
    yield ""
    yield "| package | MB | of all | loading s |"
    yield "|---|--:|--:|--:|"
    total = sum(w.megabytes for w in weighed)
    bare = time_loading(())
    for one in weighed[:LISTED]:
        seconds = f"{time_loading(one.modules[:1]) - bare:.2f}" if one.modules else ""
        name = f"{one.name} {one.version}"
        yield f"| {name} | {one.megabytes:.1f} | {one.megabytes / total:.0%} | {seconds} |"
    rest = weighed[LISTED:]
    less = sum(w.megabytes for w in rest)
    yield f"| {len(rest)} others | {less:.1f} | {less / total:.0%} | |"
    yield f"| all | {total:.1f} | | |"


def time_loading(modules: tuple[str, ...]) -> float:
    code = "; ".join(f"import {name}" for name in modules) or "pass"
    return statistics.median(run([sys.executable, "-c", code]).processor_s for _ in range(ROUNDS))


def time_install() -> Mapping[str, float]:
    """Give the seconds of a new environment, and of installing into it what is locked."""
    with tempfile.TemporaryDirectory(prefix="install-") as name:
        began = time.monotonic()
        venv.create(name, with_pip=True)
        made = time.monotonic() - began
        python = str(Path(name) / "bin" / "python")
        pip = [python, "-m", "pip", "--quiet", "install", "--no-deps"]
        locked = run([*pip, "--require-hashes", "-r", str(ROOT / "requirements.lock")]).wall_s
        return {"a new environment": made, "what is locked": locked}


if __name__ == "__main__":
    print("\n".join(report(Effort.USUAL).lines))
    for what, seconds in time_install().items():
        print(f"{what}: {seconds:.1f} s")
