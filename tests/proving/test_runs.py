"""What long runs came to is noted, and read again."""

from __future__ import annotations

from pathlib import Path

from proving.fuzz.__main__ import describe_run
from proving.fuzz.door import End, Verdict
from proving.fuzz.doors import DOORS
from proving.fuzz.run import Tally
from proving.rooms import open_room
from proving.runs import Run, find_next, name_version, note_run, read_runs, table_runs


def _run(of: str, seed: int, first: int, cases: int, version: str = "a1") -> Run:
    return Run(of, seed, first, cases, {"taken": cases}, 0, version, 1.0, 0.5, 90)


def test_runs_that_are_noted_are_read_again_and_summed(tmp_path: Path) -> None:
    file = tmp_path / "runs.jsonl"
    assert read_runs(file) == []
    noted = [_run("fuzz toml", 1, 0, 250), _run("fuzz texts", 1, 0, 40)]
    noted.append(_run("fuzz toml", 1, 300, 1000, "b2"))
    for run in noted:
        note_run(run, file)
    assert read_runs(file) == noted
    assert table_runs(noted).splitlines()[2:] == [
        "| fuzz texts | 40 | 1 | 25.0 | 0.5 | 90 | 0 |",
        "| fuzz toml | 1,250 | 2 | 1.6 | 0.5 | 90 | 0 |",
    ]


def test_the_table_in_the_book_of_building_is_of_the_runs_that_are_noted() -> None:
    book = Path(__file__).parents[2] / "docs" / "building.md"
    assert f"\n{table_runs(read_runs())}\n" in book.read_text("utf-8")


def test_a_run_goes_on_where_those_of_its_seed_end() -> None:
    noted = [_run("fuzz toml", 1, 0, 250), _run("fuzz toml", 2, 0, 7000)]
    assert find_next(noted, "fuzz toml", 1) == 300  # series of cases begin at hundreds
    assert find_next([_run("fuzz toml", 1, 0, 300)], "fuzz toml", 1) == 300
    assert find_next(noted, "fuzz toml", 3) == find_next(noted, "fuzz api", 1) == 0


def test_a_tally_as_it_is_noted() -> None:
    tally = Tally()
    tally.add(Verdict(7, End.TAKEN, cpu_s=0.25, peak_mb=80))
    tally.add(Verdict(8, End.FAILED, "KeyError at a.py:1", cpu_s=0.5, peak_mb=90))
    run = describe_run(DOORS["toml"], 5, 7, tally, "c3")
    ends = {"taken": 1, "failed": 1}
    assert run == Run("fuzz toml", 5, 7, 2, ends, 1, "c3", 0.8, 0.5, 90)


def test_the_version_is_a_commit() -> None:
    int(name_version().rstrip("+"), 16)


def test_a_room_is_empty_and_goes_away() -> None:
    with open_room("test") as room:
        assert list(room.iterdir()) == []
        (room / "file").write_bytes(b"")
    assert not room.exists()
