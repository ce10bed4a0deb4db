"""book.toml's tables on case, sewing, pocket, stocks and costs: read strictly, with advice."""

from pathlib import Path

import pytest

from wayfold.base.errors import UserError
from wayfold.base.geometry import Size
from wayfold.book.casing import (
    BenchChoices,
    CaseStyle,
    Casing,
    Costs,
    Material,
    Pocket,
    PocketItem,
    Practice,
    Sewing,
    SewingMethod,
    SpinePiece,
    Stock,
)
from wayfold.book.materials import Grain, Source
from wayfold.book.state import Book
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, start_book

HEAD = 'version = 1\n[book]\ntitle = "A"\n'


def load(root: Path, text: str) -> BenchChoices:
    (root / "book.toml").write_text(HEAD + text, encoding="utf-8")
    return load_book(BookFolder(root)).book.bench


def test_what_a_file_leaves_out_is_as_it_starts(tmp_path: Path) -> None:
    assert load(tmp_path, "") == BenchChoices()


def test_all_tables_are_read(tmp_path: Path) -> None:
    bench = load(
        tmp_path,
        """
[case]
style = "three-piece-cloth"
spine = "board"
block_mm = 11.5
[sewing]
method = "tapes"
thread_mm = 0.45
[pocket]
[[pocket.item]]
name = "map"
size_mm = [120, 200, 3]
[costs]
money = "kr"
ink_ml = 4
[dummy]
sheet_mm = [297, 210]
[bench]
hand = "practised"
[[stock]]
material = "board"
size_mm = [500, 700]
grain = "short"
price = 3.5
[[stock]]
material = "printable cloth"
size_mm = [329, 483]
source = "maker"
""",
    )
    assert bench.casing.style is CaseStyle.THREE_PIECE
    assert bench.casing.spine is SpinePiece.BOARD
    assert bench.casing.block == 11.5
    assert bench.sewing.method is SewingMethod.TAPES
    assert bench.sewing.thread == 0.45
    assert bench.pocket.items == (PocketItem("map", 120, 200, 3),)
    assert (bench.costs.money, bench.costs.ink_ml) == ("kr", 4)
    assert bench.dummy_sheet == Size(297, 210)
    assert bench.hand is Practice.PRACTISED
    board, cloth = bench.stocks
    assert (board.material, board.size, board.grain) == (
        Material.BOARD,
        Size(500, 700),
        Grain.SHORT,
    )
    assert (board.price, board.source) == (3.5, Source.MEASURED)
    assert (cloth.material, cloth.source) == (Material.PRINT_CLOTH, Source.MAKER)


@pytest.mark.parametrize(
    ("text", "words", "remedy"),
    [
        ("[case]\njoint = 8\n", "case.joint", "joint_mm"),
        ('[case]\nstyle = "half leather"\n', "case.style", "quarter-cloth"),
        ("[case]\nboard_mm = -2\n", "case.board_mm", ""),
        ('[case]\nback = "round"\nspine = "board"\n', "cannot follow a rounded back", ""),
        ("[[stock]]\nsize_mm = [1, 2]\n", "stock[1].material", "material"),
        ("[[pocket.item]]\nsize_mm = [100, 200]\n", "pocket.item[1].size_mm", ""),
    ],
)
def test_slips_are_named_with_their_key(text: str, words: str, remedy: str, tmp_path: Path) -> None:
    with pytest.raises(UserError) as caught:
        load(tmp_path, text)
    assert words in str(caught.value)
    assert remedy in caught.value.remedy


def test_a_book_that_is_started_keeps_what_is_decided_at_the_bench(tmp_path: Path) -> None:
    bench = BenchChoices(
        casing=Casing(style=CaseStyle.FULL_CLOTH, block=12.5, photo="IMG 1.jpg"),
        sewing=Sewing(method=SewingMethod.TAPES, tapes=3),
        pocket=Pocket((PocketItem("tickets", 86, 190, 4),), 120.0),
        stocks=(
            Stock(Material.CLOTH, Size(1380, 2000), Grain.LONG, 18.0, True, "buckram"),
            Stock(Material.BOARD, Size(500, 700), source=Source.MAKER),
        ),
        costs=Costs(money="kr", ink_ml=4.0),
        hand=Practice.PRACTISED,
        dummy_sheet=Size(297, 210),
    )
    folder = BookFolder(tmp_path)
    start_book(folder, Book("One", bench=bench))
    assert load_book(folder).book.bench == bench
    start_book(BookFolder(tmp_path / "plain"), Book("Two"))
    text = (tmp_path / "plain" / "book.toml").read_text("utf-8")
    assert "[case]" not in text
    assert "[pocket]" not in text
