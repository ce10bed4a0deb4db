"""The commands about the plan by itself: kept, chosen, held and explained."""

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest

from wayfold.app.history import undo_change
from wayfold.app.make import make_book
from wayfold.base.progress import NoProgress
from wayfold.book.edits import HoldBlocks, SetPicks
from wayfold.book.planning import PinChoice
from wayfold.book.state import Pick
from wayfold.cli.main import run
from wayfold.project.files import BookFolder
from wayfold.project.store import write_edit


def ask(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    assert run([*arguments, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def say(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str]:
    code = run(list(arguments))
    streams = capsys.readouterr()
    return code, streams.out + streams.err


def write_plan_table(book: Path, words: str) -> None:
    path = BookFolder(book).book_file
    path.write_text(f"{path.read_text('utf-8')}\n{words}\n", encoding="utf-8")


def read_lock(book: Path) -> dict[str, Any]:
    return tomllib.loads(BookFolder(book).plan_file.read_text("utf-8"))


def list_blocks(book: Path, gathering: int) -> list[Any]:
    """What lies in a gathering, block by block with its first page."""
    lock = read_lock(book)
    first = 1 + 4 * sum(lock["sheets"][: gathering - 1])
    last = first + 4 * lock["sheets"][gathering - 1] - 1
    return [b for b in lock["block"] if first <= b["first_page"] <= last]


def test_the_plan_is_the_one_the_print_files_are_made_by(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lock = BookFolder(book).plan_file.read_bytes()
    view = ask(capsys, "plan", str(book))
    assert BookFolder(book).plan_file.read_bytes() == lock
    assert view["status"] == "optimal"
    assert view["cost"] == view["bound"]
    assert view["pages"] == 4 * sum(view["gatherings"])
    made = json.loads((book / "out" / "plan.json").read_text("utf-8"))
    assert [g["sheets"] for g in made["gatherings"]] == view["gatherings"]
    assert {b["id"] for b in read_lock(book)["block"]} == set(view["blocks"])


def test_the_flatplan_shows_every_page_and_the_plans_on_offer(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, words = say(capsys, "plan", str(book))
    assert code == 0
    assert "Optimal" in words
    assert "Plans to choose from" in words
    assert "opener Lisbon" in words
    pages = 4 * sum(read_lock(book)["sheets"])
    rows = [line for line in words.splitlines() if line.lstrip().startswith(("┌", "│", "└"))]
    assert len([row for row in rows if "centre" not in row]) == pages // 2


def test_a_chosen_plan_is_noted_and_comments_stay(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write_plan_table(book, "# my own words")
    view = ask(capsys, "plan", str(book), "--choose", "every hero centred")
    assert view["choice"] == "every hero centred"
    offered = [choice for offer in view["offers"] for choice in offer["choices"]]
    assert sorted(offered) == ["balanced", "even gatherings", "every hero centred"]
    text = BookFolder(book).book_file.read_text("utf-8")
    assert "# my own words" in text
    assert tomllib.loads(text)["plan"]["choice"] == "every hero centred"


def test_a_printed_gathering_stays_through_a_change_elsewhere(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    ask(capsys, "printed", str(book), "1")
    first = list_blocks(book, 1)
    last = read_lock(book)["block"][-1]["id"]
    shown = [b["id"] for b in read_lock(book)["block"] if b["id"].startswith(("single", "group"))]
    assert shown[-1] != last
    write_edit(BookFolder(book), SetPicks(((shown[-1].split(":")[1], Pick.LEAVE),)))
    view = ask(capsys, "plan", str(book))
    assert view["printed"] == [1]
    assert 1 not in view["changed"]
    assert list_blocks(book, 1) == first
    assert not [f for f in view["findings"] if f["rule"] == "printed-again"]


def test_a_printed_gathering_that_cannot_stay_is_named_with_the_reason(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    ask(capsys, "printed", str(book), "1")
    picture = next(
        b["id"] for b in list_blocks(book, 1) if ":" in b["id"] and "opener" not in b["id"]
    )
    write_edit(BookFolder(book), SetPicks(((picture.split(":")[1], Pick.LEAVE),)))
    view = ask(capsys, "plan", str(book))
    (finding,) = (f for f in view["findings"] if f["rule"] == "printed-again")
    assert finding["where"] == "gathering 1"
    assert "must be printed again" in finding["message"]
    assert view["printed"] == []


def test_gatherings_can_be_freed_again(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    ask(capsys, "printed", str(book), "1", "2")
    assert read_lock(book)["printed"] == [1, 2]
    ask(capsys, "printed", str(book), "1", "--free")
    assert read_lock(book)["printed"] == [2]
    code, words = say(capsys, "printed", str(book), "99")
    assert (code, "no sheet '99'" in words) == (2, True)


def test_printing_is_noted_only_of_a_book_that_is_made(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (book / "out" / "sheets.pdf").unlink()
    code, words = say(capsys, "printed", str(book), "1")
    assert code == 2
    assert "wayfold make" in words


def test_why_a_page_is_where_it_is(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    opener = next(b for b in read_lock(book)["block"] if b["id"] == "opener:0")
    page = str(opener["first_page"])
    why = ask(capsys, "plan", str(book), "--why", page)["why"]
    assert (why["block"], why["page"]) == ("opener:0", opener["first_page"])
    assert any("must begin on a recto" in reason for reason in why["reasons"])
    code, words = say(capsys, "plan", str(book), "--why", page)
    assert (code, "opener Lisbon" in words) == (0, True)
    code, words = say(capsys, "plan", str(book), "--why", "999")
    assert (code, "no page 999" in words) == (2, True)


def test_pins_that_clash_are_named_together(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    blocks = read_lock(book)["block"]
    at = next(i for i, b in enumerate(blocks) if b["id"] == "opener:1")
    page, before = blocks[at]["first_page"] + 2, blocks[at - 1]["id"]
    write_plan_table(
        book,
        f'[[plan.pin]]\nblock = "opener:1"\npage = {page}\n'
        f'[[plan.pin]]\nblock = "{before}"\nstays = true',
    )
    code, words = say(capsys, "plan", str(book))
    assert code == 2
    assert f"opener:1 is pinned to page {page}" in words
    assert f"{before} is pinned to where it was" in words


def test_a_page_that_cannot_be_is_said_alone(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write_plan_table(book, '[[plan.pin]]\nblock = "opener:1"\npage = 7')
    code, words = say(capsys, "plan", str(book))
    assert (code, "This cannot be: opener:1 is pinned to page 7" in words) == (2, True)


def test_a_pinned_block_lies_where_it_is_pinned(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = next(b for b in read_lock(book)["block"] if b["id"] == "opener:1")["first_page"]
    write_plan_table(book, f'[[plan.pin]]\nblock = "opener:1"\npage = {before + 2}')
    ask(capsys, "plan", str(book))
    after = next(b for b in read_lock(book)["block"] if b["id"] == "opener:1")["first_page"]
    assert after == before + 2


@pytest.mark.parametrize(
    ("table", "told"),
    [
        ("[plan.prices]\nhero_iner = 3", "hero_inner"),
        ("[plan.prices]\nhero_inner = -1", "plan.prices.hero_inner"),
        ('[plan]\nchoice = "cheap"', "even gatherings"),
        ('[[plan.pin]]\nblock = "opener:0"', "page, centre, way or stays"),
    ],
)
def test_a_wrong_word_in_the_plan_table_is_named(
    book: Path, capsys: pytest.CaptureFixture[str], table: str, told: str
) -> None:
    write_plan_table(book, table)
    code, words = say(capsys, "plan", str(book))
    assert code == 2
    assert "book.toml, line" in words
    assert told in words


def test_prices_of_the_book_are_taken(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = ask(capsys, "plan", str(book))
    sheets = sum(before["gatherings"])
    write_plan_table(book, "[plan.prices]\nsheet = 103\ngathering_changed = 0")
    after = ask(capsys, "plan", str(book))
    assert after["cost"] == before["cost"] + 100 * sheets


def test_planning_afresh_and_making_again(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = list_blocks(book, 1)
    ask(capsys, "plan", str(book), "--afresh")
    assert list_blocks(book, 1) == before
    make_book(book, NoProgress())
    assert make_book(book, NoProgress()).nothing_to_do


def test_a_wish_is_met_in_a_way_that_was_told(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = ask(capsys, "plan", str(book))
    wish = before["unmet"][0]
    page, block = str(wish["page"]), wish["block"]
    told = ask(capsys, "plan", str(book), "--why", page)
    ways = [way for u in told["unmet"] if u["block"] == block for way in u["ways"]]
    assert ways
    after = ask(capsys, "plan", str(book), "--meet", page)
    assert block not in {u["block"] for u in after["unmet"]}
    pins = tomllib.loads(BookFolder(book).book_file.read_text("utf-8"))["plan"]["pin"]
    assert block in {pin["block"] for pin in pins}
    code, words = say(capsys, "plan", str(book), "--meet", page, "--way", "99")
    assert code == 2
    assert "no wish" in words or "no way 99" in words


def test_the_report_holds_the_whole_flatplan(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    flatplan = ask(capsys, "plan", str(book))["flatplan"]
    made = json.loads((book / "out" / "plan.json").read_text("utf-8"))
    assert flatplan == {key: made[key] for key in ("pages", "gatherings", "interleaves")}


def test_meeting_a_wish_goes_by_itself(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, words = say(capsys, "plan", str(book), "--meet", "3", "--afresh")
    assert (code, "--way" in words) == (2, True)


def test_an_edit_taken_back_brings_the_plan_back(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    ask(capsys, "plan", str(book))
    lock = BookFolder(book).plan_file.read_text("utf-8")
    opener = next(b for b in read_lock(book)["block"] if b["id"] == "opener:1")
    pin = PinChoice("opener:1", page=opener["first_page"] + 2)
    write_edit(BookFolder(book), HoldBlocks((pin,)))
    ask(capsys, "plan", str(book))
    assert BookFolder(book).plan_file.read_text("utf-8") != lock
    undo_change(book)
    ask(capsys, "plan", str(book))
    before, after = tomllib.loads(lock), read_lock(book)
    assert {**after, "cost": 0, "bound": 0} == {**before, "cost": 0, "bound": 0}


def test_a_printed_gathering_is_not_given_up_for_an_earlier_plan(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    ask(capsys, "plan", str(book))
    opener = next(b for b in read_lock(book)["block"] if b["id"] == "opener:1")
    pin = PinChoice("opener:1", page=opener["first_page"] + 2)
    write_edit(BookFolder(book), HoldBlocks((pin,)))
    make_book(book, NoProgress())
    number = _find_gathering(book, opener["first_page"])
    ask(capsys, "printed", str(book), str(number))
    held = list_blocks(book, number)
    undo_change(book)
    view = ask(capsys, "plan", str(book))
    assert (view["printed"], list_blocks(book, number)) == ([number], held)


def _find_gathering(book: Path, page: int) -> int:
    last = 0
    for number, sheets in enumerate(read_lock(book)["sheets"], start=1):
        last += 4 * sheets
        if page <= last:
            return number
    raise AssertionError(page)
