"""What counts as ink on a sheet, and how its changes are told; plain cases, no outside source."""

from __future__ import annotations

from dataclasses import replace

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.base.hashing import plain
from wayfold.base.revive import revive
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Drawing, Picture, Placed, Text
from wayfold.drawing.text import Paragraph, Run, TextStyle
from wayfold.press.ledger import (
    PLACE,
    Change,
    SheetInk,
    estimate_ink_ml,
    list_changes,
    trace_sheets,
)
from wayfold.press.model import PressSheet, SheetSide, SideName, Slot

A4 = Size(210.0, 297.0)
SHEET = Size(483.0, 329.0)
STYLE = TextStyle("Serif", 10.0, 14.0, Colour(0, 0, 0))


def draw(number: int, caption: str = "A wall.", photo: str = "a") -> Drawing:
    return Drawing(
        f"page {number}",
        A4,
        3.0,
        (
            Picture(Rect(20, 20, 150, 100), photo, alt=caption),
            Text(Rect(20, 125, 60, 20), (Paragraph((Run(caption),), STYLE),), f"caption:{photo}"),
        ),
    )


def lay(left: int, right: int, name: SideName, shift: float = 0.0) -> SheetSide:
    slots = (
        Slot(left, Affine.shift(31.5 + shift, 16), Rect(28.5, 13, 213, 303)),
        Slot(right, Affine.shift(241.5, 16), Rect(241.5, 13, 213, 303)),
    )
    return SheetSide(name, slots, Drawing("marks", SHEET, 0.0, ()), Rect(31.5, 16, 420, 297))


def trace(drawings: list[Drawing], shift: float = 0.0, contents: str = "same") -> SheetInk:
    sheet = PressSheet(1, 1, SHEET, lay(4, 1, SideName.FRONT, shift), lay(2, 3, SideName.BACK))
    (ink,) = trace_sheets([sheet], drawings, {"a": contents})
    return ink


PAGES = [draw(n) for n in range(1, 5)]


def test_a_changed_caption_is_told_with_its_page_and_side() -> None:
    changed = [*PAGES[:2], draw(3, "The sea."), PAGES[3]]
    assert list_changes(trace(PAGES), trace(changed)) == (Change(SideName.BACK, 3, "caption a"),)


def test_what_nobody_sees_is_no_ink() -> None:
    spoken = replace(PAGES[0].items[0], alt="A wall in the sun")
    other = [replace(PAGES[0], label="p. 1", items=(spoken, PAGES[0].items[1])), *PAGES[1:]]
    assert not list_changes(trace(PAGES), trace(other))


def test_a_picture_whose_file_was_edited_is_other_ink() -> None:
    changes = list_changes(trace(PAGES), trace(PAGES, contents="edited"))
    assert {c.what for c in changes} == {"picture a"}
    assert [c.page for c in changes] == [4, 1, 2, 3]


def test_what_lies_on_top_matters() -> None:
    turned = [replace(PAGES[0], items=PAGES[0].items[::-1]), *PAGES[1:]]
    assert [c.what for c in list_changes(trace(PAGES), trace(turned))] == ["order"]


def test_a_page_that_lies_elsewhere_says_how_far() -> None:
    (change,) = list_changes(trace(PAGES), trace(PAGES, shift=0.3))
    assert (change.page, change.what) == (4, PLACE)
    assert abs(change.moved - 0.3) < 1e-9


def test_another_page_in_a_place_is_told_as_such() -> None:
    ink = trace(PAGES)
    front = replace(ink.front, pages=(replace(ink.front.pages[0], page=8), ink.front.pages[1]))
    (change,) = list_changes(ink, replace(ink, front=front))
    assert (change.page, change.what) == (8, "page 4")


def test_a_drawing_placed_on_a_page_is_ink_too() -> None:
    placed = Placed(Drawing("overview", A4, 0.0, (PAGES[0].items[0],)))
    changed = [replace(PAGES[0], items=(*PAGES[0].items, placed)), *PAGES[1:]]
    assert [c.what for c in list_changes(trace(PAGES), trace(changed))] == ["drawing overview"]


def test_ink_survives_being_written_down() -> None:
    ink = trace(PAGES)
    assert revive(plain(ink), SheetInk) == ink


def test_ink_by_the_rule_of_thumb() -> None:
    # 1 ml a square foot (0.09290304 m2 exactly, international foot): 10.76 ml/m2; two sides of
    # an A3+ sheet wholly covered take 3.42 ml (cf. 3.08 ml at 0.9 ml a square foot, both common
    # practice among those who print photographs).
    whole = 4 * 213 * 303 / 1e6
    assert abs(estimate_ink_ml(trace(PAGES)) - whole / 0.09290304) < 0.01 * whole / 0.09290304
