"""A short slice of the long runs (``python -m proving.fuzz``): every door answers or refuses.

The cases are the same on every run: seed and number make them.
"""

from __future__ import annotations

import contextlib
import os
import socket
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from proving.fuzz.door import Door, End, Entrance, HarmError, Verdict, judge, make_case
from proving.fuzz.doors import DOORS
from proving.fuzz.keep import shrink
from proving.fuzz.mutate import spoil, spoil_text
from proving.fuzz.run import Tally, run
from proving.fuzz.watch import Watch
from tests.proving.trap import TRAP, TRAPS
from wayfold.base.errors import UserError

SLICE = {
    "pictures": 25, "tracks": 60, "calendars": 12, "streets": 25, "toml": 80, "texts": 20,
    "profiles": 60,
}  # fmt: skip
"""The desk's doors are left to the long runs: a book opened there takes seconds."""


@pytest.fixture(scope="module")
def watch(tmp_path_factory: pytest.TempPathFactory) -> Watch:
    return Watch(tmp_path_factory.getbasetemp())


@pytest.mark.parametrize("name", SLICE)
def test_a_slice_of_every_door(name: str, tmp_path: Path, watch: Watch,
                               monkeypatch: pytest.MonkeyPatch) -> None:  # fmt: skip
    (tmp_path / "tmp").mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "tmp"))
    door = DOORS[name]
    entrance = door.prepare(tmp_path)
    entrance.begin()
    ends = []
    for number in range(SLICE[name]):
        case = make_case(door, entrance, 1, number)
        verdict = judge(door, entrance, number, case, watch)
        # How long it takes is for the long runs to say: here other tests run beside it.
        assert verdict.end.holds or verdict.end in (End.SLOW, End.LARGE), verdict
        ends.append(verdict.end)
    assert len(set(ends)) > 1, "all was taken, or all refused: nothing is tried at this door"


def test_cases_are_the_same_for_the_same_seed_and_number() -> None:
    text = "version = 1\n[book]\ntitle = 'A'\n" * 20
    first = [spoil_text(text, Random(f"1 toml {n}")) for n in range(50)]
    assert first == [spoil_text(text, Random(f"1 toml {n}")) for n in range(50)]
    assert len(set(first)) > 40
    assert spoil(bytes(900), Random(3)) == spoil(bytes(900), Random(3))


def _enter(do: Callable[[bytes], None], room: Path, watch: Watch) -> End:
    door = Door("a door", "", lambda _: entrance, slow_s=0.5)
    entrance = Entrance(lambda _: b"", do)
    return judge(door, entrance, 0, b"case", watch).end


class TestJudging:
    """What breaks the rule is seen."""

    def test_what_is_taken_or_refused_holds(self, tmp_path: Path, watch: Watch) -> None:
        def refuse(_: bytes) -> None:
            raise UserError("It is torn.", remedy="Copy it again.")

        assert _enter(lambda _: None, tmp_path, watch) is End.TAKEN
        assert _enter(refuse, tmp_path, watch) is End.REFUSED

    def test_a_refusal_that_says_not_what_to_do(self, tmp_path: Path, watch: Watch) -> None:
        def refuse(_: bytes) -> None:
            raise UserError("It is torn.")

        assert _enter(refuse, tmp_path, watch) is End.MUTE

    def test_any_other_error_and_harm(self, tmp_path: Path, watch: Watch) -> None:
        def harm(_: bytes) -> None:
            raise HarmError("the book is another")

        assert _enter(lambda case: case.index(b"z") and None, tmp_path, watch) is End.FAILED
        assert _enter(harm, tmp_path, watch) is End.FAILED

    def test_writing_outside_the_room(self, tmp_path: Path, watch: Watch) -> None:
        outside = Path(tempfile.gettempdir()) / f"wayfold-outside-{os.getpid()}"

        def write(_: bytes) -> None:
            outside.write_bytes(b"")
            outside.unlink()

        inside = tmp_path / "inside"
        assert _enter(lambda case: inside.write_bytes(case) and None, tmp_path, watch) is End.TAKEN
        assert _enter(write, tmp_path, watch) is End.OUTSIDE

    def test_starting_a_program(self, tmp_path: Path, watch: Watch) -> None:
        def start(_: bytes) -> None:
            subprocess.run([sys.executable, "-c", ""], check=True)

        assert _enter(start, tmp_path, watch) is End.OUTSIDE

    def test_connecting(self, tmp_path: Path, watch: Watch) -> None:
        def connect(kind: socket.AddressFamily, address: str | tuple[str, int]) -> End:
            def ask(_: bytes) -> None:
                with socket.socket(kind) as one, contextlib.suppress(OSError):
                    one.connect(address)

            return _enter(ask, tmp_path, watch)

        # To a process of the product's own, by a file in the room, and to anything else.
        assert connect(socket.AF_UNIX, str(tmp_path / "listener")) is End.TAKEN
        assert connect(socket.AF_UNIX, "/run/listener") is End.OUTSIDE
        assert connect(socket.AF_INET, ("127.0.0.1", 9)) is End.OUTSIDE

    def test_taking_long(self, tmp_path: Path, watch: Watch) -> None:
        def count(_: bytes) -> None:
            end = time.process_time() + 0.6
            while time.process_time() < end:
                pass

        assert _enter(count, tmp_path, watch) is End.SLOW


def test_processes_that_fall_are_replaced_and_every_case_is_counted() -> None:
    entrance = TRAP.prepare(Path())
    cases = [make_case(TRAP, entrance, 39, number) for number in range(24)]
    assert set(TRAPS) < set(cases)
    told: list[int] = []
    tally = run(TRAP, range(24), 39, 2, lambda _, verdict: told.append(verdict.number))
    assert tally.ends == Counter(TRAPS.get(case, End.TAKEN) for case in cases)
    assert len(told) == len(tally.faults) == len(TRAPS)


def test_what_was_tried_counts_when_the_person_breaks_it_off() -> None:
    def tell(_: Tally, verdict: Verdict) -> None:
        raise KeyboardInterrupt

    tally = run(TRAP, range(24), 39, 1, tell)
    assert tally.broken_off
    assert 0 < tally.runs < 24


def test_a_finding_is_made_small() -> None:
    case = b"a long text " * 40 + b"\0" + b" goes on" * 40
    assert shrink(case, lambda smaller: b"\0" in smaller) == b"\0"
