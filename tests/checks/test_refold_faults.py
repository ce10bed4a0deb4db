"""Wrong print files of every kind: each must be caught, and called by its name."""

from dataclasses import replace

import pytest

from tests.checks import imposer
from tests.checks.conftest import Prove
from tests.checks.imposer import Side, change, impose
from wayfold.checks.refold.folding import Folding, Turning
from wayfold.checks.refold.report import RefoldReport


def told(report: RefoldReport) -> list[tuple[str, str]]:
    return [(f.rule.removeprefix("refold."), f.message) for f in report.findings]


def rules(report: RefoldReport) -> list[str]:
    return [rule for rule, _ in told(report)]


def bad_pages(report: RefoldReport) -> set[int]:
    return {p.number for p in report.pages if not p.ok}


def put(sides: list[Side], number: int, /, **values: object) -> list[Side]:
    """The sides with one page laid otherwise."""
    out = []
    for side in sides:
        for half in ("left", "right"):
            if getattr(side, half).page == number:
                side = change(side, half, **values)
        out.append(side)
    return out


def test_the_right_file_passes(folding: Folding, prove: Prove) -> None:
    report = prove(impose(folding))
    assert told(report) == []
    assert report.ok
    assert report.largest_offset <= 0.1
    assert [p.found_as for p in report.pages] == list(range(1, 25))


def test_two_pages_swapped(folding: Folding, prove: Prove) -> None:
    sides = put(put(put(impose(folding), 4, page=99), 6, page=4), 99, page=6)
    report = prove(sides)
    assert told(report) == [("pages-swapped", "Pages 4 and 6 are swapped.")]
    assert bad_pages(report) == {4, 6}
    assert report.pages[3].found_as == 6


def test_pages_with_nothing_but_their_numbers_swapped(folding: Folding, prove: Prove) -> None:
    sides = put(put(put(impose(folding), 5, page=99), 13, page=5), 99, page=13)
    assert told(prove(sides)) == [("pages-swapped", "Pages 5 and 13 are swapped.")]


def test_a_back_turned(folding: Folding, prove: Prove) -> None:
    sides = impose(folding)
    sides[3] = replace(sides[3], turned=True)
    report = prove(sides)
    assert told(report) == [("side-turned", "The back of gathering 1, sheet 2 is turned by 180°.")]
    assert bad_pages(report) == {4, 5}
    assert report.pages[3].found_as == 5 and report.pages[3].rotation_deg == 180


def test_a_front_turned(folding: Folding, prove: Prove) -> None:
    sides = impose(folding)
    sides[4] = replace(sides[4], turned=True)
    assert told(prove(sides)) == [
        ("side-turned", "The front of gathering 2, sheet 1 is turned by 180°.")
    ]


@pytest.mark.parametrize("turning", list(Turning))
def test_the_other_duplex_edge(folding: Folding, prove: Prove, turning: Turning) -> None:
    other = Turning.SHORT_EDGE if turning is Turning.LONG_EDGE else Turning.LONG_EDGE
    report = prove(
        impose(replace(folding, turning=other)), as_described=replace(folding, turning=turning)
    )
    assert rules(report) == ["other-duplex-edge"]
    assert "Printed for the other duplex edge" in report.findings[0].message


@pytest.mark.parametrize("sheet", [0, 3, 5])
def test_a_sheet_missing(folding: Folding, prove: Prove, sheet: int) -> None:
    sides = impose(folding)
    del sides[2 * sheet : 2 * sheet + 2]
    report = prove(sides)
    name = {0: "gathering 1, sheet 1", 3: "gathering 2, sheet 2", 5: "gathering 3, sheet 1"}[sheet]
    assert rules(report) == ["sheet-missing"]
    assert f"Sheet missing: {name}," in report.findings[0].message
    assert len(bad_pages(report)) == 4


def test_a_single_side_missing(folding: Folding, prove: Prove) -> None:
    report = prove(impose(folding)[:-1])
    assert "side-missing" in rules(report) and not report.ok


def test_a_sheet_too_many(folding: Folding, prove: Prove) -> None:
    sides = impose(folding)
    report = prove(sides + sides[:2])
    assert rules(report) == ["sheets-too-many"] and not report.ok


def test_gatherings_out_of_order(folding: Folding, prove: Prove) -> None:
    sides = impose(folding)
    report = prove(sides[:4] + sides[10:] + sides[4:10])
    assert rules(report) == ["gatherings-out-of-order"]
    assert report.findings[0].message.startswith("Gatherings 2 and 3 are out of order")


def test_sheets_of_a_gathering_innermost_first(folding: Folding, prove: Prove) -> None:
    sides = impose(folding)
    report = prove(sides[:4] + sides[8:10] + sides[6:8] + sides[4:6] + sides[10:])
    assert told(report) == [("sheets-reversed", "The sheets of gathering 2 come innermost first.")]


def test_creep_with_the_wrong_sign(folding: Folding, prove: Prove) -> None:
    report = prove(impose(folding, sign=-1))
    assert set(rules(report)) == {"creep"}
    assert all("wrong sign" in m for _, m in told(report))
    # Published rule (geometry of nested folds): third sheet out by 2 x 1.2 x 0.25 = 0.6 mm;
    # moved the wrong way it lies twice as far out.
    assert report.pages[8 + 4].dx == pytest.approx(1.2, abs=0.03)
    assert report.pages[8 + 5].dx == pytest.approx(-1.2, abs=0.03)


def test_creep_not_compensated(folding: Folding, prove: Prove) -> None:
    report = prove(impose(folding, compensate=False))
    assert set(rules(report)) == {"creep"}
    assert all("not compensated" in m for _, m in told(report))


def test_creep_compensated_on_untrimmed_leaves(folding: Folding, prove: Prove) -> None:
    report = prove(impose(folding), as_described=replace(folding, trim_fore_edge=False))
    assert set(rules(report)) == {"creep"}
    assert all("untrimmed" in m for _, m in told(report))


def test_creep_for_another_paper(folding: Folding, prove: Prove) -> None:
    report = prove(impose(replace(folding, caliper_um=125)))
    assert set(rules(report)) == {"creep"}
    assert all("by 5" in m or "by 4" in m for _, m in told(report))


@pytest.mark.parametrize(
    ("dx", "dy", "words"),
    [
        (0.5, 0, "too far right"),
        (-0.5, 0, "too far left"),
        (0, 0.5, "too far down"),
        (0, -0.3, "too far up"),
    ],
)
def test_a_page_off_its_place(
    folding: Folding, prove: Prove, dx: float, dy: float, words: str
) -> None:
    sides = [
        change(s, "right", dx=s.right.dx + dx, dy=dy) if s.right.page == 7 else s
        for s in impose(folding)
    ]
    sides = [change(s, "left", dx=s.left.dx + dx, dy=dy) if s.left.page == 7 else s for s in sides]
    report = prove(sides)
    assert rules(report) == ["shift"]
    assert report.findings[0].message.startswith("Page 7 lies 0.")
    assert words in report.findings[0].message
    assert bad_pages(report) == {7}
    assert report.pages[6].dx == pytest.approx(dx, abs=0.03)
    assert report.pages[6].dy == pytest.approx(dy, abs=0.03)


def test_a_side_off_its_place(folding: Folding, prove: Prove) -> None:
    sides = impose(folding)
    for half in ("left", "right"):
        sides[4] = change(sides[4], half, dx=getattr(sides[4], half).dx + 0.4)
    report = prove(sides)
    assert rules(report) == ["shift"]
    assert "The front of gathering 2, sheet 1" in report.findings[0].message


@pytest.mark.parametrize(("scale", "said"), [(0.99, "99 %"), (1.02, "102 %"), (0.996, "99.6 %")])
def test_another_scale(folding: Folding, prove: Prove, scale: float, said: str) -> None:
    report = prove([replace(s, scale=scale) for s in impose(folding)])
    assert rules(report)[0] == "scale"
    assert f"scale is {said}" in report.findings[0].message
    assert set(rules(report)) <= {"scale", "no-bleed"}


def test_one_page_scaled_to_show_its_bleed_within_the_trim(folding: Folding, prove: Prove) -> None:
    report = prove(put(impose(folding), 8, scale=105 / 111))
    assert not report.ok and bad_pages(report) == {8}
    assert any("Page 8" in m or "page 8" in m for _, m in told(report))


def test_a_blank_in_place_of_a_page(folding: Folding, prove: Prove) -> None:
    report = prove(put(impose(folding), 9, page=None))
    assert told(report) == [("blank-page", "Blank in place of page 9.")]
    assert report.pages[8].found_as is None


def test_a_page_in_place_of_a_blank(folding: Folding, prove: Prove) -> None:
    report = prove(put(impose(folding), 23, page=3))
    assert told(report) == [("wrong-page", "Page 3 is printed in place of page 23.")]


def test_pages_of_another_book(folding: Folding, prove: Prove) -> None:
    other = imposer.draw_book(folding.pages, folding.trim, folding.bleed, seed=77)
    report = prove(impose(folding), contents=other)
    assert "another-book" in rules(report)
    assert any(m.startswith("Pages of another book") for _, m in told(report))


def test_one_page_of_another_book(folding: Folding, prove: Prove, book: list[str]) -> None:
    other = imposer.draw_book(folding.pages, folding.trim, folding.bleed, seed=77)
    contents = [*book[:9], other[9], *book[10:]]
    report = prove(impose(folding), contents=contents)
    assert rules(report) == ["strange-page"] and bad_pages(report) == {10}
    assert "no page of this book" in report.findings[0].message


def test_a_mirrored_page(folding: Folding, prove: Prove) -> None:
    report = prove(put(impose(folding), 11, mirrored=True))
    assert told(report) == [("page-mirrored", "Page 11 is mirrored.")]


def test_a_mirrored_side(folding: Folding, prove: Prove) -> None:
    sides = impose(folding)
    sides[2] = replace(sides[2], mirrored=True)
    assert told(prove(sides)) == [
        ("side-mirrored", "The front of gathering 1, sheet 2 is mirrored.")
    ]


def test_a_page_on_its_head(folding: Folding, prove: Prove) -> None:
    assert told(prove(put(impose(folding), 12, turned=True))) == [
        ("page-turned", "Page 12 is turned by 180°.")
    ]


def test_front_and_back_exchanged(folding: Folding, prove: Prove) -> None:
    sides = impose(folding)
    sides[4], sides[5] = sides[5], sides[4]
    assert told(prove(sides)) == [
        ("front-and-back-exchanged", "Gathering 2, sheet 1: front and back are exchanged.")
    ]


def test_left_and_right_exchanged(folding: Folding, prove: Prove) -> None:
    sides = impose(folding)
    left, right = sides[1].left, sides[1].right
    sides[1] = replace(sides[1], left=right, right=left)
    report = prove(sides)
    assert rules(report) == ["halves-exchanged"]


def test_marks_inside_the_trim(folding: Folding, prove: Prove) -> None:
    sides = impose(folding)
    # A crop mark 6 mm long, 0.25 mm wide, running into the page from its head.
    fold, head = 120, 170 - 11
    sides[4] = replace(
        sides[4],
        marks=f"0.25 w {fold + 60} {head + 2} m 0 -8 l S".replace(
            "0 -8 l", f"{fold + 60} {head - 6} l"
        ),
    )
    report = prove(sides)
    assert rules(report) == ["marks"]
    assert "page 9" in report.findings[0].message and "head" in report.findings[0].message


def test_the_step_on_the_spine_is_no_fault_and_any_other_is(folding: Folding, prove: Prove) -> None:
    """A step of 6 x 24 pt on the outer fold goes round the spine (Roberts and Etherington)."""
    step = "118.94 100 2.12 8.47 re f"
    sides = impose(folding)
    sides[0] = replace(sides[0], marks=step)
    assert prove(sides).ok
    sides = impose(folding)
    sides[2] = replace(sides[2], marks=step)
    report = prove(sides)
    assert rules(report) == ["marks", "marks"]
    assert all("fold" in m for _, m in told(report))


@pytest.mark.parametrize("by", [1.0, 2.5])
def test_content_lost_at_the_edges(folding: Folding, prove: Prove, by: float) -> None:
    # Page 10 runs off on all sides.
    report = prove(put(impose(folding), 10, clip_in=folding.bleed + by))
    assert "lost" in rules(report)
    assert bad_pages(report) == {10}


def test_bleed_cut_off_at_the_trim(folding: Folding, prove: Prove) -> None:
    report = prove(put(impose(folding), 10, clip_in=folding.bleed))
    assert report.ok
    assert rules(report) == ["no-bleed"]
    assert "head, foot and fore edge" in report.findings[0].message.replace(
        "head, fore edge and foot", "head, foot and fore edge"
    )


def test_part_of_a_page_missing(folding: Folding, prove: Prove, book: list[str]) -> None:
    lines = book[10].split("\n")
    contents = [*book[:10], "\n".join(lines[:4] + lines[6:]), *book[11:]]
    report = prove(impose(folding), contents=contents)
    assert rules(report) == ["lost"] and bad_pages(report) == {11}


@pytest.mark.parametrize("page", [3, 10, 16])
def test_a_page_far_off_its_place_is_still_known(folding: Folding, prove: Prove, page: int) -> None:
    report = prove(put(impose(folding), page, dx=6.0, dy=-4.0))
    assert bad_pages(report) == {page}
    assert report.pages[page - 1].found_as == page
    assert "shift" in rules(report)
