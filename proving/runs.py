"""What long runs came to, kept: a line a run in ``proving/runs.jsonl``, added and never rewritten.

Versions differ in how they make cases, so the same seed and number is the same case within one
version only; the sums are of several.
"""

from __future__ import annotations

import itertools
import json
import subprocess
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

RUNS = Path(__file__).with_name("runs.jsonl")
ROUND = 100
"""A run begins at a multiple of this, as series of cases do."""


@dataclass(frozen=True, slots=True)
class Run:
    """One run: what it was of ("fuzz tracks", "kill make"), its cases and how they ended.

    ``faults`` are different ones. Kills are not measured one by one.
    """

    of: str
    seed: int
    first: int
    cases: int
    ends: Mapping[str, int]
    faults: int
    version: str
    cpu_s: float
    slowest_s: float = 0.0
    peak_mb: int = 0


def note_run(run: Run, file: Path = RUNS) -> None:
    """Add a run to those noted."""
    with file.open("a", encoding="utf-8") as lines:
        lines.write(json.dumps(asdict(run)) + "\n")


def read_runs(file: Path = RUNS) -> list[Run]:
    """Give the runs that were noted, the oldest first."""
    if not file.is_file():
        return []
    return [Run(**json.loads(line)) for line in file.read_text(encoding="utf-8").splitlines()]


def find_next(runs: Iterable[Run], of: str, seed: int) -> int:
    """Give the number of the first case of a seed that no run has come to."""
    ends = (run.first + run.cases for run in runs if (run.of, run.seed) == (of, seed))
    return -(-max(ends, default=0) // ROUND) * ROUND


def table_runs(runs: Iterable[Run]) -> str:
    """Give how much has been tried of everything in all, as a table in Markdown."""
    lines = [
        "| tried | cases | versions | ms a case | slowest s | peak MB | faults |",
        "|---|--:|--:|--:|--:|--:|--:|",
    ]
    for of, group in itertools.groupby(sorted(runs, key=lambda run: run.of), lambda run: run.of):
        found = list(group)
        cases = sum(run.cases for run in found)
        cells = (
            of,
            f"{cases:,}",
            str(len({run.version for run in found})),
            f"{1000 * sum(run.cpu_s for run in found) / max(cases, 1):,.1f}",
            str(max(run.slowest_s for run in found) or ""),
            str(max(run.peak_mb for run in found) or ""),
            str(sum(run.faults for run in found)),
        )
        lines.append(f"| {' | '.join(cells)} |")
    return "\n".join(lines)


def name_version() -> str:
    """Give the commit that is tried; with a plus where files are changed since."""
    home = Path(__file__).parent

    def ask(*words: str) -> str:
        done = subprocess.run(("git", *words), cwd=home, capture_output=True, text=True, check=True)
        return done.stdout.strip()

    changed = ask("status", "--porcelain", "--untracked-files=no", "..", f":!{RUNS.name}")
    return ask("rev-parse", "--short", "HEAD") + ("+" if changed else "")
