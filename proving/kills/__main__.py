"""Kill a real program at points of its work, and see what is left of the book.

``python -m proving.kills --points 500``: every point is a process of its own that is killed
(SIGKILL) while it edits, undoes, takes in files, marks sheets as printed or makes the book: half
of them at a call to the file system, half at a moment of chance. After each

- the book opens, and its decisions, tracks, calendars and ledgers are byte for byte those of a
  state that an undisturbed run goes through: wholly before or wholly after;
- every file in ``out`` is byte for byte the one of before or of after;
- photographs have the bytes, times and permissions they had;
- nothing of the broken work is left once it was looked at again;
- the same work, done again, ends as the undisturbed run does.
"""

from __future__ import annotations

import argparse

from proving.kills.jobs import JOBS
from proving.kills.points import prove
from proving.rooms import open_room
from proving.runs import note_run


def main() -> int:
    """Run the points asked for; give 1 where any left a book that is neither before nor after."""
    parser = argparse.ArgumentParser(prog="python -m proving.kills")
    parser.add_argument("--points", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", nargs="*", default=list(JOBS), choices=list(JOBS))
    parser.add_argument("--note", action="store_true", help="note the runs in proving/runs.jsonl")
    asked = parser.parse_args()
    faults = 0
    with open_room("kills") as room:
        jobs = [JOBS[name] for name in asked.jobs]
        for noted in prove(room, jobs, asked.points, asked.seed):
            faults += noted.faults
            if asked.note:
                note_run(noted)
    print(f"{faults} faults", flush=True)
    return 1 if faults else 0


if __name__ == "__main__":
    raise SystemExit(main())
