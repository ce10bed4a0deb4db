"""Whatever is asked of the planner in a book's files, ``wayfold plan`` answers in words."""

import re
from pathlib import Path

import pytest

from tests.app.test_plan import ask, read_lock, say, write_plan_table
from wayfold.project.files import BookFolder


def decide_all(book: Path, decision: str) -> None:
    """Write one decision on every photograph."""
    path = BookFolder(book).photos_file
    words = re.sub(r"(?m)^(content = .*)$", rf"\1\n{decision}", path.read_text("utf-8"))
    path.write_text(words, encoding="utf-8")


def set_caliper(book: Path, caliper_um: int) -> None:
    path = BookFolder(book).book_file
    words = re.sub(r"(?m)^caliper_um = .*$", f"caliper_um = {caliper_um}", path.read_text("utf-8"))
    path.write_text(words, encoding="utf-8")


def test_a_book_without_chapters(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    decide_all(book, 'pick = "leave"')
    view = ask(capsys, "plan", str(book))
    assert view["status"] == "optimal"
    assert "opener:0" not in view["blocks"]
    assert {"foreword", "colophon"} <= set(view["blocks"])


def test_every_photograph_asks_for_a_leaf(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    decide_all(book, "interleaf = true")
    view = ask(capsys, "plan", str(book))
    assert view["status"] == "optimal"
    wanted = [e for i in read_lock(book)["interleaf"] for e in i["end"] if e["role"] == "wanted"]
    photographs = [b for b in view["blocks"] if b.startswith(("single:", "hero:"))]
    # One leaf between two facing pages serves both, and then it is said.
    shared = [f for f in view["findings"] if f["rule"] == "interleaf-shared"]
    assert len(wanted) + len(shared) == len(photographs) == 12


def test_paper_so_thick_that_sheets_lie_alone(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    set_caliper(book, 900)
    view = ask(capsys, "plan", str(book))
    assert set(view["gatherings"]) == {1}
    (finding,) = [f for f in view["findings"] if f["rule"] == "gathering-thickness"]
    assert "900 µm" in finding["message"]
    assert "Measure" in finding["remedy"]


def test_paper_that_allows_one_sheet_where_more_are_asked_for(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    set_caliper(book, 900)
    write_plan_table(book, "[binding]\nsheets_min = 3\nsheets_max = 2")
    code, words = say(capsys, "plan", str(book))
    assert code == 2
    assert "at least 3 and at most 2 sheets" in words
    assert "sheets_min" in words


def test_a_search_that_may_look_at_little_gives_its_best_and_says_so(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    decide_all(book, "interleaf = true")
    (book / "texts" / "foreword.md").unlink()  # with it the first, quick plan happens to be best
    write_plan_table(book, "[plan]\nstates_max = 1")
    view = ask(capsys, "plan", str(book), "--afresh")
    assert view["status"] == "feasible"
    assert view["cost"] > view["bound"]
    code, words = say(capsys, "plan", str(book))
    assert code == 0
    assert f"a gap of {view['cost'] - view['bound']}" in words
    assert "states_max = 2, [plan] in book.toml" in words


def test_a_kept_plan_that_breaks_a_rule_is_not_printed_by(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A block is moved by hand from its recto to the white verso before it."""
    folder = BookFolder(book)
    before = read_lock(book)
    opener = next(b for b in before["block"] if b["id"] == "title")
    lock = folder.plan_file.read_text("utf-8")
    moved = lock.replace(
        f'id = "title"\nfirst_page = {opener["first_page"]}',
        f'id = "title"\nfirst_page = {opener["first_page"] - 1}',
    )
    assert moved != lock
    folder.plan_file.write_text(moved, encoding="utf-8")
    ask(capsys, "plan", str(book))
    assert read_lock(book)["block"] == before["block"]


def test_a_plan_file_that_contradicts_itself_is_named(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = BookFolder(book).plan_file
    lock = path.read_text("utf-8")
    path.write_text(re.sub(r"(?m)^sheets = .*$", "sheets = [1]", lock), encoding="utf-8")
    code, words = say(capsys, "plan", str(book))
    assert code == 2
    assert "plan.lock.toml: This is no plan of any book" in words
    assert "delete it" in words
