"""Findings as files: a case that broke the rule, made smaller while it still breaks it so."""

from __future__ import annotations

import json
import multiprocessing
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path

from proving.fuzz.door import Door, End, Verdict, judge, make_case
from proving.fuzz.watch import Watch
from proving.fuzz.worker import quietly
from proving.rooms import open_room

FOUND = Path(__file__).parent.parent / "found"
TRIES = 300
WAIT_S = 120.0


def shrink(case: bytes, breaks: Callable[[bytes], bool], tries: int = TRIES) -> bytes:
    """Take pieces out of a case, large ones first, as long as it still ``breaks`` the rule."""
    long = max(len(case) // 2, 1)
    while long and tries:
        at = 0
        while at < len(case) and tries:
            tries -= 1
            smaller = case[:at] + case[at + long :]
            if breaks(smaller):
                case = smaller
            else:
                at += long
        long //= 2
    return case


def try_alone(door: Door, seed: int, number: int) -> tuple[bytes, Verdict]:
    """Try one case of a door in this process's child, its series from the beginning."""
    return _in_child(door, seed, number, small=False)


def keep_case(door: Door, seed: int, verdict: Verdict) -> Path:
    """Write a finding's case, and beside it what is known of it; give the case's file."""
    # A case that kills or hangs its process, or hangs on those before it, stays as it is.
    small = door.series == 1 and verdict.end in (End.FAILED, End.MUTE)
    case, _ = _in_child(door, seed, verdict.number, small=small, make_only=not small)
    folder = FOUND / door.name
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{seed}-{verdict.number}.case"
    path.write_bytes(case)
    facts = {"door": door.name, "seed": seed, "number": verdict.number, "end": verdict.end.value,
             "what": verdict.what, "told": verdict.told}  # fmt: skip
    path.with_suffix(".json").write_text(json.dumps(facts, indent=1), encoding="utf-8")
    return path


def _in_child(
    door: Door, seed: int, number: int, *, small: bool, make_only: bool = False
) -> tuple[bytes, Verdict]:
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    with open_room("fuzz") as room:
        order = (door, seed, number, small, make_only, str(room), theirs)
        process = context.Process(target=_answer, args=order)
        process.start()
        theirs.close()
        case, verdict = b"", Verdict(number, End.DIED, "before its case was made")
        try:
            while ours.poll(WAIT_S):
                case, verdict = ours.recv()
            if process.is_alive():
                verdict = Verdict(number, End.HANGS, f"no answer for {WAIT_S:g} s")
        except EOFError:
            pass
        finally:
            process.kill()
            process.join()
    return case, verdict


def _answer(
    door: Door, seed: int, number: int, small: bool, make_only: bool, room: str, pipe: Connection
) -> None:
    with quietly(Path(room)):
        watch = Watch(Path(room))
        entrance = door.prepare(Path(room))
        entrance.begin()
        case = make_case(door, entrance, seed, number)
        pipe.send((case, Verdict(number, End.DIED, "while this case was tried")))
        if make_only:
            return
        for before in range(number - number % door.series, number):
            judge(door, entrance, before, make_case(door, entrance, seed, before), watch)
        verdict = judge(door, entrance, number, case, watch)
        pipe.send((case, verdict))
        if small and not verdict.end.holds:

            def breaks(other: bytes) -> bool:
                found = judge(door, entrance, number, other, watch)
                return (found.end, found.what) == (verdict.end, verdict.what)

            pipe.send((shrink(case, breaks), verdict))
