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
import contextlib
import os
import random
import shutil
import signal
import time
import traceback
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from proving.calls import Calls
from proving.kills_jobs import JOBS, Job, copy_book, make_template
from proving.rooms import open_room
from proving.runs import Run, name_version, note_run
from wayfold.base.hashing import hash_bytes
from wayfold.disk.placing import PART, UNDER_WAY_S
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.journal_notes import Kind, open_notes
from wayfold.project.journal_placing import GONE, NEXT, sweep
from wayfold.project.store import load_book

State = Mapping[str, str]
"""File name within the book's folder -> identity of its content."""
LONGEST_S = 900.0
"""For what hangs: on a machine that is busy with others much takes long."""
PLAN_REPORT = "plan.json"
"""It tells what the last planning moved: nothing, where the plan was kept before the end."""


@dataclass(slots=True)
class Course:
    """An undisturbed run of a job: the states it goes through, its calls and how long it takes."""

    job: Job
    start: Path
    states: list[State]
    made_before: State
    made_after: State
    originals: Mapping[str, tuple[str, int, int]]
    calls: int
    seconds: float
    met: list[int] = field(default_factory=lambda: [0, 0, 0])
    """How many points left the book before, after, and between (in a state gone through)."""


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


def prove(work: Path, jobs: list[Job], points: int, seed: int) -> Iterator[Run]:
    """Kill at ``points`` points, shared out among the jobs by their weights; tell what was met."""
    calls, book = Calls(), work / "book"
    run(lambda: make_template(book))
    shutil.copytree(book, work / "template")
    chance, version = random.Random(seed), name_version()
    weights = sum(job.weight for job in jobs)
    for job in jobs:
        course = trace_course(work, job, calls)
        count = max(1, round(points * job.weight / weights))
        began, worked, faults = time.monotonic(), _measure_work(), 0
        for number in range(count):
            # Spread over the whole course: what follows the note of a change is a small part of it.
            share = (number + chance.random()) / count
            fault = kill_once(work, course, calls, share, by_call=number % 2 == 0)
            if fault:
                faults += 1
                print(f"  {job.name}: {fault}", flush=True)
        before, after, between = course.met
        print(
            f"{job.name}: {count} killed in {time.monotonic() - began:.0f} s "
            f"({course.calls} calls, {course.seconds * 1000:.0f} ms undisturbed): "
            f"{before} before, {after} after, {between} in a state on the way",
            flush=True,
        )
        ends = {"before": before, "after": after, "on the way": between}
        cpu_s = round(_measure_work() - worked, 1)
        yield Run(f"kill {job.name}", seed, 0, count, ends, faults, version, cpu_s)


def _measure_work() -> float:
    """Give the seconds of the processor that this process took, and those it waited for."""
    return sum(os.times()[:4])


def trace_course(work: Path, job: Job, calls: Calls) -> Course:
    """Do a job undisturbed, from the template, and note what it goes through."""
    start = work / "start"
    book = copy_book(work / "template", work / "book")
    run(lambda: job.prepare(book))
    shutil.rmtree(start, ignore_errors=True)
    shutil.copytree(book.root, start)
    open_notes.cache_clear()
    first, made, originals = look(book), look_made(book), look_at_originals(book)
    known = Journal(book).count
    counted = work / "calls"

    def count() -> None:
        began = time.monotonic()
        with calls.armed(book.root):
            job.do(book)
        counted.write_text(f"{calls.seen} {time.monotonic() - began}")

    run(count)
    seen, seconds = counted.read_text().split()
    states = [first]
    for entry in Journal(book).entries[known:]:
        changed = {name: identity for name, identity in entry.after.items() if identity}
        gone = {name for name, identity in entry.after.items() if identity is None}
        states.append({n: i for n, i in {**states[-1], **changed}.items() if n not in gone})
    last = look(book)
    if len(states) == 1 or states[-1] != last:
        # What goes with the last change and is no decision: ledgers, tracks, calendars.
        states = [*states[:-1], last] if len(states) > 1 else [first, last]
    return Course(job, start, states, made, look_made(book), originals, int(seen), float(seconds))


def kill_once(work: Path, course: Course, calls: Calls, share: float, *, by_call: bool) -> str:
    """Kill a run of a job after a ``share`` of it; give what is wrong with the book, or nothing."""
    book = copy_book(course.start, work / "book")
    if by_call:
        at = int(share * course.calls)
        where = f"killed at call {at}"

        def do() -> None:
            with calls.armed(book.root, at, lambda: os.kill(os.getpid(), signal.SIGKILL)):
                course.job.do(book)

        run(do, may_die=True)
    else:
        after_s = share * 1.05 * course.seconds
        where = f"killed after {after_s * 1000:.1f} ms"
        run(lambda: course.job.do(book), may_die=True, kill_after_s=after_s)
    try:
        fault = judge(book, course)
    except Exception:
        fault = traceback.format_exc()
    return fault and f"{where}: {fault}"


def judge(book: BookFolder, course: Course) -> str:
    """Look at a book whose program was killed; give what is wrong with it, or nothing."""
    open_notes.cache_clear()  # it is another folder of the same name
    known = Journal(book).count
    load_book(book)
    opened = look(book)
    Journal(book).catch_up()
    if any(entry.kind is Kind.BY_HAND for entry in Journal(book).entries[known:]):
        return "the journal takes the change for one by hand"
    now = look(book)
    if now != opened:
        return "opening it alone does not finish what was broken off"
    if now not in course.states:
        return f"neither before nor after: {tell_difference(now, course.states)}"
    at = course.states.index(now)
    course.met[0 if at == 0 else 1 if at == len(course.states) - 1 else 2] += 1
    made = look_made(book)
    for name, identity in made.items():
        if identity not in (course.made_before.get(name), course.made_after.get(name)):
            return f"out/{name} is torn"
    if look_at_originals(book) != course.originals:
        return "a photograph was touched"
    age_parts(book)
    sweep(book)
    left = [p.name for p in book.root.rglob(".*") if p.name.endswith((PART, NEXT, GONE))]
    if left:
        return f"left over: {left}"
    if at == 0 or course.job.again:
        run(lambda: course.job.do(book))
        if look(book) != course.states[-1]:
            return f"done again: {tell_difference(look(book), course.states[-1:])}"
        made = {name: i for name, i in look_made(book).items() if name != PLAN_REPORT}
        wanted = {name: i for name, i in course.made_after.items() if name != PLAN_REPORT}
        if made != wanted:
            return f"made again: {tell_difference(made, [wanted])}"
    return "" if look_at_originals(book) == course.originals else "a photograph was touched"


def look(book: BookFolder) -> State:
    """Give what the person and the printer have put into a book."""
    more = [book.ledger_file, book.private / "printed-before.lock.toml"]
    for home in (book.root / "tracks", book.calendars, book.private / "taken-away"):
        more += [path for path in home.rglob("*") if path.suffix in (".gpx", ".ics")]
    return _identify(book.root, [*book.list_decisions(), *(p for p in more if p.is_file())])


def look_made(book: BookFolder) -> State:
    """Give what was made of a book."""
    files = [p for p in book.out.rglob("*") if p.is_file() and not p.name.startswith(".")]
    return _identify(book.out, files)


def _identify(root: Path, files: list[Path]) -> State:
    return {p.relative_to(root).as_posix(): hash_bytes(p.read_bytes()) for p in sorted(files)}


def look_at_originals(book: BookFolder) -> Mapping[str, tuple[str, int, int]]:
    """Give content, time of change and permissions of the photographs."""
    found = {}
    for path in sorted((book.root / "photographs").iterdir()):
        stat = path.stat()
        found[path.name] = (hash_bytes(path.read_bytes()), stat.st_mtime_ns, stat.st_mode)
    return found


def age_parts(book: BookFolder) -> None:
    """Make unfinished files look as old as those are that are swept."""
    old = time.time() - 2 * UNDER_WAY_S
    for path in book.root.rglob(f".*{PART}"):
        os.utime(path, (old, old))


def tell_difference(now: State, states: list[State]) -> str:
    """Name the files in which a state differs from each of others."""
    return "; ".join(
        str(sorted(n for n in {*now, *state} if now.get(n) != state.get(n))) for state in states
    )


def run(
    do: Callable[[], object], *, may_die: bool = False, kill_after_s: float = LONGEST_S
) -> None:
    """Do something in a process of its own, with all that it starts; kill it after a while.

    Unless it ``may_die``, RuntimeError is raised where it does not end well.
    """
    ready, go = os.pipe()
    child = os.fork()
    if child == 0:
        code = 1
        try:
            os.setpgid(0, 0)
            os.close(ready)
            os.write(go, b".")
            do()
            code = 0
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(code)
    os.close(go)
    os.read(ready, 1)
    os.close(ready)
    until = time.monotonic() + kill_after_s
    while True:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            break
        if time.monotonic() >= until:
            os.killpg(child, signal.SIGKILL)
            _, status = os.waitpid(child, 0)
            break
        time.sleep(min(0.0005, max(0.0, until - time.monotonic())))
    # What it started ends with it.
    with contextlib.suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)
    if status and not may_die:
        raise RuntimeError(f"it ended with {status}")


if __name__ == "__main__":
    raise SystemExit(main())
