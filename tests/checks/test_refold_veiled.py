"""A reading file that shows leaves otherwise than they fall is caught.

What a reader meets on turning a leaf (the next page under it, then the page before) is plain from
any sheet of tracing paper.
"""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from tests.checks import imposer, leaf_imposer
from tests.checks.leaf_imposer import GAPS, INK, VEILED, Ink, list_reading
from wayfold.checks.refold.folding import FoldedInterleaf, Folding
from wayfold.checks.refold.leaves import pair_leaves
from wayfold.checks.refold.naming.leaves import PlannedLeaf
from wayfold.checks.refold.veiled import judge_reading, order_reading

Judge = Callable[[list[str]], list[str]]

LEAVES = tuple(leaf for pair in pair_leaves(VEILED) for leaf in pair)
BOOK = imposer.draw_book(VEILED.pages, VEILED.trim, VEILED.bleed)


@pytest.fixture(scope="module")
def leaves(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return leaf_imposer.write_leaves(tmp_path_factory.mktemp("leaves") / "leaves.pdf")


@pytest.fixture
def judge(leaves: Path, tmp_path: Path) -> Judge:
    def run(pages: list[str]) -> list[str]:
        reading = imposer.write_reading(tmp_path / "reading.pdf", pages, VEILED)
        order = order_reading(VEILED, LEAVES)
        found = judge_reading(VEILED, reading, leaves, LEAVES, order)
        return [f.message for f in found]

    return run


def test_the_right_reading_file_passes(judge: Judge) -> None:
    assert judge(list_reading(BOOK)) == []


def test_bare_pages_alone_are_not_judged(judge: Judge) -> None:
    assert judge(BOOK) == []


def exchange(ink: Ink, one: tuple[int, int], other: tuple[int, int]) -> Ink:
    faces = dict(ink.faces)
    first, second = faces.pop(one, ""), faces.pop(other, "")
    return Ink({**faces, **{k: v for k, v in ((one, second), (other, first)) if v}})


def test_two_leaves_shown_in_each_others_place(judge: Judge) -> None:
    wrong = exchange(INK, (1, 1), (2, 1))
    said = judge(list_reading(BOOK, wrong))
    assert said == [
        f"Under the leaf after page {after} the reading file lacks the ink that the leaf bears."
        for after in (4, 20)
    ]


def test_ink_shown_on_the_other_face(judge: Judge) -> None:
    wrong = exchange(INK, (1, 1), (1, 2))
    assert judge(list_reading(BOOK, wrong)) == [
        "Under the leaf after page 4 the reading file lacks the ink that the leaf bears.",
        "Under the leaf after page 4 the reading file shows ink that the leaf does not bear.",
    ]


def test_a_leaf_shown_over_another_page(judge: Judge) -> None:
    pages = list_reading(BOOK)
    # Page 3 under the leaf after page 4, where page 5 belongs; both bear type.
    other = list_reading([*BOOK[:4], BOOK[2], *BOOK[5:]])
    pages[4] = other[4]
    assert judge(pages) == [
        "Under the leaf after page 4 the reading file shows something else than page 5."
    ]


def test_a_leaf_shown_without_its_veil(judge: Judge) -> None:
    pages = list_reading(BOOK)
    pages[4] = BOOK[4]
    assert judge(pages)


def test_shown_in_another_gap(judge: Judge) -> None:
    gaps = tuple((6 if after == 4 else after, sheet, leaf) for after, sheet, leaf in GAPS)
    assert judge(list_reading(BOOK, gaps=gaps))


def test_the_order_of_a_pair_in_the_centre() -> None:
    folding = Folding(VEILED.trim, VEILED.sheet, (1,), interleaves=(FoldedInterleaf(1, 1, (2, 2)),))
    first, second = PlannedLeaf(0, 0), PlannedLeaf(0, 1)
    order = order_reading(folding, (first, second))
    assert order.bare == {1: 0, 2: 1, 3: 6, 4: 7}
    assert [(o.place, o.page, o.recto, o.leaves) for o in order.openings] == [
        (2, 3, True, (first, second)),
        (3, 2, False, (first,)),
        (4, 3, True, (second,)),
        (5, 2, False, (second, first)),
    ]


def test_leaves_round_the_whole_book_lie_over_nothing_outside() -> None:
    folding = Folding(VEILED.trim, VEILED.sheet, (1,), interleaves=(FoldedInterleaf(1, 0, (0, 4)),))
    first, second = PlannedLeaf(0, 0), PlannedLeaf(0, 1)
    order = order_reading(folding, (first, second))
    assert [(o.place, o.page) for o in order.openings] == [(0, 1), (1, 0), (6, 5), (7, 4)]
    assert order.pages == 8


def test_stubs_cover_nothing() -> None:
    stub = replace(VEILED.interleaves[0], stubs=(True, False))
    folding = replace(VEILED, interleaves=(stub, *VEILED.interleaves[1:]))
    assert order_reading(folding, LEAVES).pages == VEILED.pages + 2 * (len(GAPS) - 1)
