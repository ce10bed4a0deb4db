"""Every door takes anything: ``python -m proving.fuzz DOOR --runs 100000 [--seed N]``.

Cases are made by chance, the same for the same seed and number. What breaks the rule
(``proving/fuzz/door.py``) is kept as files, made smaller where that can be, under
``proving/found/DOOR``. ``--only NUMBER`` tries one case (or its series up to it) again and shows
what happened; without a door all are listed, with what was tried of each so far.

A run goes on where those noted of its seed end (``proving/runs.py``), and is noted with ``--note``.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

from proving.fuzz.door import Door, Verdict
from proving.fuzz.doors import DOORS
from proving.fuzz.keep import FOUND, keep_case, try_alone
from proving.fuzz.run import Tally, run
from proving.runs import Run, find_next, name_version, note_run, read_runs, table_runs


def main() -> int:
    """Run one door, or all, and say what was found; 1 where the rule was broken."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("door", nargs="?", choices=[*DOORS, "all"])
    parser.add_argument("--runs", type=int, default=100_000)
    parser.add_argument("--first", type=int, help="the number to begin with")
    parser.add_argument("--note", action="store_true", help="note the run in proving/runs.jsonl")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--minutes", type=float, default=float("inf"), help="stop after so many")
    parser.add_argument("--only", type=int, help="try this case alone and show what happened")
    asked = parser.parse_args()
    noted = read_runs()
    if asked.door is None:
        for door in DOORS.values():
            print(f"{door.name:10} {door.about}")
        print(f"\n{table_runs(noted)}")
        return 0
    doors = list(DOORS.values()) if asked.door == "all" else [DOORS[asked.door]]
    if asked.only is not None:
        return _show(doors[0], asked.seed, asked.only)
    broken, version = 0, name_version() if asked.note else ""
    for door in doors:
        first = asked.first
        if first is None:
            first = find_next(noted, _call(door), asked.seed)
        numbers = range(first, first + asked.runs)
        began = time.monotonic()
        until = began + 60 * asked.minutes
        tally = run(door, numbers, asked.seed, asked.workers, _tell, until)
        print(describe(door, asked.seed, tally, time.monotonic() - began), flush=True)
        if asked.note:
            note_run(describe_run(door, asked.seed, first, tally, version))
        for verdicts in tally.faults.values():
            for verdict in verdicts[:1]:
                print(f"  kept: {keep_case(door, asked.seed, verdict)}", flush=True)
        broken += len(tally.faults)
        if tally.broken_off:
            break
    return min(broken, 1)


def describe(door: Door, seed: int, tally: Tally, wall_s: float) -> str:
    """Give a run in a few lines: how many, how they ended, the slowest, the largest."""
    ends = ", ".join(f"{count:,} {end.value}" for end, count in tally.ends.most_common())
    lines = [
        f"{door.name}: {tally.runs:,} cases of seed {seed} in {wall_s:.0f} s: {ends or 'none'}; "
        f"{1000 * tally.cpu_s / max(tally.runs, 1):.1f} ms a case, "
        f"slowest {tally.slowest_s:.2f} s (number {tally.slowest}), "
        f"peak {tally.peak_mb} MB (number {tally.largest}), {len(tally.faults)} faults"
    ]
    for (end, what), count in tally.counts.most_common():
        number = tally.faults[end, what][0].number
        lines.append(f"  {count:,} x {end.value}: {what} (first: number {number})")
    return "\n".join(lines)


def describe_run(door: Door, seed: int, first: int, tally: Tally, version: str) -> Run:
    """Give a run as it is noted."""
    ends = {end.value: count for end, count in tally.ends.most_common()}
    cpu_s, slowest_s = round(tally.cpu_s, 1), round(tally.slowest_s, 2)
    return Run(
        _call(door), seed, first, tally.runs, ends, len(tally.faults), version, cpu_s, slowest_s,
        tally.peak_mb,
    )  # fmt: skip


def _call(door: Door) -> str:
    return f"fuzz {door.name}"


def _tell(tally: Tally, verdict: Verdict) -> None:
    last = verdict.told.strip().splitlines()[-1:] or [""]
    print(
        f"  [{tally.runs:,}] number {verdict.number}: {verdict.end.value}: {verdict.what} "
        f"{last[0][:160]}",
        flush=True,
    )


def _show(door: Door, seed: int, number: int) -> int:
    case, verdict = try_alone(door, seed, number)
    print(repr(case[:2000]))
    print(verdict.end.value, verdict.what, f"{verdict.cpu_s:.2f} s, {verdict.peak_mb} MB")
    print(verdict.told)
    print(f"Files that were kept lie in {FOUND}." if FOUND.is_dir() else "")
    return 0 if verdict.end.holds else 1


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parent.parent.parent))
    raise SystemExit(main())
