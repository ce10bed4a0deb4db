"""Wrong translucent leaves of every kind: each must be caught, and called by its name.

Where wrapped leaves fall and how far they stand out is worked by hand in ``leaf_imposer``.
"""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from tests.checks import imposer, leaf_imposer
from tests.checks.leaf_imposer import INK, VEILED, Ink, lay_leaves, lay_paper, write_words
from tests.checks.test_refold_faults import rules, told
from wayfold.base.progress import NoProgress
from wayfold.checks.refold.fold import TOLERANCE, refold
from wayfold.checks.refold.folding import FoldedInterleaf, Folding
from wayfold.checks.refold.leaves import LeafFiles, add_leaves, find_gaps
from wayfold.checks.refold.naming.leaves import PlannedLeaf
from wayfold.checks.refold.reading import strip_laid_over
from wayfold.checks.refold.report import LeafReading, RefoldReport

ProveLeaves = Callable[..., RefoldReport]


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the right files of a book with leaves."""
    folder = tmp_path_factory.mktemp("veiled")
    book = imposer.draw_book(VEILED.pages, VEILED.trim, VEILED.bleed)
    reading = leaf_imposer.list_reading(book)
    imposer.write_reading(folder / "reading.pdf", reading, VEILED)
    imposer.write_sheets(folder / "sheets.pdf", lay_paper(), book, VEILED)
    leaf_imposer.write_leaves(folder / "leaves.pdf")
    leaf_imposer.write_leaf_sheets(folder / "interleaves.pdf", lay_leaves())
    return folder


@pytest.fixture
def prove(files: Path, tmp_path: Path) -> ProveLeaves:
    """Write leaf sheets and prove them alone, the paper taken as right."""

    def run(
        sides: list[imposer.Side] | None = None,
        ink: Ink = INK,
        folding: Folding = VEILED,
        leaves: Path | None = None,
    ) -> RefoldReport:
        printed = leaf_imposer.write_leaf_sheets(
            tmp_path / "interleaves.pdf", lay_leaves() if sides is None else sides, ink
        )
        paper = RefoldReport(folding, TOLERANCE, (), ())
        return add_leaves(paper, LeafFiles(printed, leaves or files / "leaves.pdf"), NoProgress())

    return run


@pytest.fixture
def prove_all(files: Path, tmp_path: Path) -> ProveLeaves:
    """Refold the whole book with its right print files."""

    def run(folding: Folding = VEILED, **other: Path) -> RefoldReport:
        sheets, reading, printed = (
            other.get(name, files / f"{name}.pdf") for name in ("sheets", "reading", "interleaves")
        )
        leaf_files = LeafFiles(printed, files / "leaves.pdf")
        return refold(sheets, folding, reading, NoProgress(), workers=1, leaf_files=leaf_files)

    return run


def wrong(report: RefoldReport) -> set[tuple[int, str]]:
    return {(line.after_page, line.face) for line in report.leaves if not line.ok}


def redescribe(index: int, **values: object) -> Folding:
    """The folding with one interleaf said to lie otherwise."""
    leaves = list(VEILED.interleaves)
    leaves[index] = replace(leaves[index], **values)  # type: ignore[arg-type]
    return replace(VEILED, interleaves=tuple(leaves))


def test_the_right_files_pass(prove_all: ProveLeaves) -> None:
    report = prove_all()
    assert told(report) == []
    assert report.ok
    assert report.largest_offset <= 0.1
    assert [(v.after_page, v.face) for v in report.leaves] == [
        (after, face) for after in (4, 12, 20, 24, 30, 34) for face in ("recto", "verso")
    ]


def test_uncut_leaves_need_no_shift(prove_all: ProveLeaves, tmp_path: Path) -> None:
    uncut = replace(VEILED, trim_fore_edge=False)
    book = imposer.draw_book(VEILED.pages, VEILED.trim, VEILED.bleed)
    sides = imposer.impose(replace(uncut, interleaves=()))
    sheets = imposer.write_sheets(tmp_path / "sheets.pdf", sides, book, uncut)
    printed = leaf_imposer.write_leaf_sheets(tmp_path / "interleaves.pdf", lay_leaves(uncut))
    assert told(prove_all(uncut, sheets=sheets, interleaves=printed)) == []


# Geometry of folding: wrapped round the inner m of n sheets, leaves fall after 2(n-m) and 2n+2m.
@pytest.mark.parametrize(
    ("sheets", "wrapped", "first", "second"),
    [(4, 2, 4, 12), (4, 4, 0, 16), (3, 1, 4, 8), (5, 3, 4, 16), (4, 0, 8, 8), (1, 1, 0, 4)],
)
def test_folded_leaves_fall_where_paper_puts_them(
    sheets: int, wrapped: int, first: int, second: int
) -> None:
    before = 2
    interleaf = FoldedInterleaf(2, sheets - wrapped, (8 + first, 8 + second))
    folding = replace(VEILED, gatherings=(before, sheets), interleaves=(interleaf,))
    fallen = find_gaps(folding)
    assert fallen == {PlannedLeaf(0, 0): 8 + first, PlannedLeaf(0, 1): 8 + second}


@pytest.mark.parametrize(("depth", "fallen"), [(0, (0, 16)), (1, (2, 14)), (3, (6, 10))])
def test_a_leaf_at_the_wrong_depth(prove: ProveLeaves, depth: int, fallen: tuple[int, int]) -> None:
    """The plan says where the leaves are to lie; folded in so deep they lie elsewhere."""
    report = prove(folding=redescribe(0, depth=depth))
    assert "interleaf-place" in rules(report)
    (said,) = [m for rule, m in told(report) if rule == "interleaf-place"]
    assert f"fall after pages {fallen[0]} and {fallen[1]}, not after 4 and 12" in said
    assert not report.ok


def test_a_leaf_laid_for_another_depth(prove: ProveLeaves) -> None:
    """One paper sheet further in, the words stand a paper's thickness nearer the fold."""
    sides = lay_leaves()
    sides[0] = imposer.change(sides[0], "right", dx=-3 * leaf_imposer.CALIPER)
    report = prove(sides)
    assert rules(report) == ["interleaf-ink"]
    assert "The recto of the leaf after page 4 lies 0.25 mm off its place" in told(report)[0][1]
    assert wrong(report) == {(4, "recto")}


@pytest.mark.parametrize("sheet", [1, 2, 3])
def test_a_leaf_sheet_missing(prove: ProveLeaves, sheet: int) -> None:
    sides = lay_leaves()
    del sides[2 * sheet - 2 : 2 * sheet]
    report = prove(sides)
    assert not report.ok
    (missing,) = [f for f in report.findings if f.rule == "refold.interleaf-missing"]
    assert missing.where == f"interleaf sheet {sheet}"
    leaves = {1: {4, 12}, 2: {20, 24}, 3: {30, 34}}[sheet]
    assert {after for after, _ in wrong(report)} == leaves


def test_leaf_sheets_swapped_between_gatherings(prove: ProveLeaves) -> None:
    sides = lay_leaves()
    report = prove([*sides[2:4], *sides[:2], *sides[4:]])
    assert set(rules(report)) == {"interleaf-order"}
    assert [m for _, m in told(report)] == [
        "Interleaf sheet 2 lies in the place of sheet 1.",
        "Interleaf sheet 1 lies in the place of sheet 2.",
    ]
    assert {after for after, _ in wrong(report)} == {4, 12, 20, 24}


def test_a_sheet_folded_the_other_way(prove: ProveLeaves) -> None:
    sides = lay_leaves()
    sides[0], sides[1] = sides[1], sides[0]
    report = prove(sides)
    assert rules(report) == ["interleaf-sides"]


@pytest.mark.parametrize("side", [0, 1])
def test_a_side_turned(prove: ProveLeaves, side: int) -> None:
    sides = lay_leaves()
    sides[2 + side] = replace(sides[2 + side], turned=True)
    report = prove(sides)
    assert not report.ok
    assert set(rules(report)) == {"interleaf-ink"}
    assert {after for after, _ in wrong(report)} == {20, 24}


def test_ink_on_the_wrong_face_of_its_leaf(prove: ProveLeaves) -> None:
    moved = dict(INK.faces)
    moved[2, 2] = moved.pop((2, 1))
    report = prove(ink=Ink(moved))
    assert wrong(report) == {(20, "recto"), (20, "verso")}
    said = {m for _, m in told(report)}
    assert "The recto of the leaf after page 20 is blank." in said
    assert any("what belongs on the recto of the leaf after page 20" in m for m in said)


def test_ink_on_the_other_leaf_of_its_sheet(prove: ProveLeaves) -> None:
    moved = dict(INK.faces)
    moved[1, 3] = moved.pop((1, 1))
    report = prove(ink=Ink(moved))
    assert wrong(report) == {(4, "recto"), (12, "recto")}


def test_single_leaves_on_each_others_half(prove: ProveLeaves) -> None:
    """Cut from the wrong half of their sheet, leaves to be tipped in change places."""
    moved = dict(INK.faces)
    moved[3, 3], moved[3, 2] = moved.pop((3, 1)), moved.pop((3, 4))
    report = prove(ink=Ink(moved))
    assert not report.ok
    assert {after for after, _ in wrong(report)} == {30, 34}


def test_a_single_leaf_between_the_pages_of_one_leaf(prove: ProveLeaves) -> None:
    """Nothing can be tipped in where no two pages face: a leaf's own front and back."""
    report = prove(folding=redescribe(2, after=(31,)))
    assert "interleaf-place" in rules(report)
    assert not report.ok


@pytest.mark.parametrize("after", [-2, 38])
def test_a_single_leaf_outside_the_book(prove: ProveLeaves, files: Path, after: int) -> None:
    folding = redescribe(2, after=(after,))
    report = prove(folding=folding)
    assert "interleaf-place" in rules(report)
    assert not report.ok
    # And no page of the reading file is taken for one seen through it.
    reading = files / "reading.pdf"
    assert strip_laid_over(reading, folding, files) == reading


def test_words_on_a_stub(prove: ProveLeaves) -> None:
    """A leaf that is cut back bears nothing; its words would be cut off with it."""
    report = prove(folding=redescribe(0, stubs=(True, False)))
    assert told(report) == [
        (
            "interleaf-ink",
            "The recto of the leaf after page 4 bears ink, and the leaf is cut back to a stub.",
        )
    ]
    assert wrong(report) == {(4, "recto")}


def test_one_word_more_than_planned(prove: ProveLeaves) -> None:
    more = {**INK.faces, (1, 2): write_words("Ferry", 40, 60)}
    report = prove(ink=Ink(more))
    assert wrong(report) == {(4, "verso")}


def test_a_leaf_too_few_in_the_file_of_leaves(
    prove: ProveLeaves, files: Path, tmp_path: Path
) -> None:
    import pikepdf

    short = tmp_path / "short.pdf"
    with pikepdf.open(files / "leaves.pdf") as pdf:
        del pdf.pages[-2:]
        pdf.save(short)
    report = prove(leaves=short)
    assert "interleaf-count" in rules(report)
    assert not report.ok


def test_no_files_of_leaves(files: Path) -> None:
    report = refold(files / "sheets.pdf", VEILED, files / "reading.pdf", NoProgress(), workers=1)
    assert rules(report) == ["interleaves-missing"]
    assert not report.ok


def test_paper_that_forgets_the_leaf_round_it(prove_all: ProveLeaves) -> None:
    """A translucent sheet pushes out what lies within it: here by 0.3 mm, laid for 0.1 mm."""
    report = prove_all(replace(VEILED, interleaf_caliper_um=300))
    off = {p.number for p in report.pages if not p.ok}
    # The pages of the inner two of four sheets, and of the innermost of three.
    assert off <= {*range(5, 13), *range(21, 25)}
    assert len(off) >= 10


def test_a_reading_file_that_shows_a_leaf_elsewhere(prove_all: ProveLeaves, tmp_path: Path) -> None:
    """Right print files, and a reading file that has two leaves in each other's place."""
    book = imposer.draw_book(VEILED.pages, VEILED.trim, VEILED.bleed)
    faces = dict(INK.faces)
    faces[1, 1], faces[2, 1] = faces[2, 1], faces[1, 1]
    pages = leaf_imposer.list_reading(book, Ink(faces))
    reading = imposer.write_reading(tmp_path / "reading.pdf", pages, VEILED)
    assert rules(prove_all(reading=reading)) == ["reading-leaf", "reading-leaf"]


def test_lines_of_leaves_as_json() -> None:
    line = LeafReading(4, "recto", 0.12345, False, "lies 0.12 mm off its place")
    assert line.to_json() == {
        "after_page": 4,
        "face": "recto",
        "offset_mm": 0.123,
        "ok": False,
        "words": "lies 0.12 mm off its place",
    }


def lay_mirrored(sheet: int, second: bool) -> list[imposer.Side]:
    """A leaf's faces mirrored, each on the side of the other: face 1 behind 2, face 3 behind 4.

    Seen through the sheet a face lies at the same spot with left and right changed, so the
    leaf's way to the fold stays that of its half.
    """
    sides = lay_leaves()
    front, back = sides[2 * sheet], sides[2 * sheet + 1]
    # ORDERS[1]: front 4 | 1, back 2 | 3. The first leaf is the right of the front and the left of
    # the back, the second the other two.
    a, b = ("left", "right") if second else ("right", "left")
    here, behind = getattr(front, a), getattr(back, b)
    sides[2 * sheet] = imposer.change(front, a, page=behind.page, mirrored=True)
    sides[2 * sheet + 1] = imposer.change(back, b, page=here.page, mirrored=True)
    return sides


@pytest.mark.parametrize("second", [False, True])
@pytest.mark.parametrize("sheet", [0, 1])
def test_a_leaf_read_through_the_sheet(prove: ProveLeaves, sheet: int, second: bool) -> None:
    flags = (not second, second)
    meant = redescribe(sheet, mirrored=flags)
    printed = lay_mirrored(sheet, second)
    report = prove(printed, folding=meant)
    assert told(report) == []
    assert report.ok
    assert max(v.offset or 0.0 for v in report.leaves) <= 0.1
    # Mirrored without being meant so, meant and not done, and the other leaf of the sheet.
    assert not prove(printed).ok
    assert not prove(folding=meant).ok
    assert not prove(printed, folding=redescribe(sheet, mirrored=(second, not second))).ok


def test_a_single_leaf_read_through(prove: ProveLeaves) -> None:
    """Tipped-in leaves are cut from a sheet; here the second of the two is read through."""
    printed = lay_mirrored(2, second=True)
    assert prove(printed, folding=redescribe(3, mirrored=(True,))).ok
    assert not prove(printed, folding=redescribe(2, mirrored=(True,))).ok


def test_what_is_mirrored_is_kept_as_json() -> None:
    meant = redescribe(0, mirrored=(False, True))
    assert Folding.from_json(meant.to_json()) == meant
