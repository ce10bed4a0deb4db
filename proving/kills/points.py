"""Points at which a program is killed, and what is wrong with the book that is left."""

from __future__ import annotations

import os
import random
import shutil
import signal
import time
import traceback
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from proving.calls import Calls
from proving.kills.jobs import Job, copy_book, make_template
from proving.kills.processes import run
from proving.kills.states import State, look, look_at_originals, look_made, tell_difference
from proving.runs import Run, name_version
from wayfold.disk.placing import PART, UNDER_WAY_S
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.journal_notes import Kind, open_notes
from wayfold.project.journal_placing import GONE, NEXT, sweep
from wayfold.project.store import load_book

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


def age_parts(book: BookFolder) -> None:
    """Make unfinished files look as old as those are that are swept."""
    old = time.time() - 2 * UNDER_WAY_S
    for path in book.root.rglob(f".*{PART}"):
        os.utime(path, (old, old))
