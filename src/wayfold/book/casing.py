"""What the maker decides of sewing, case, pocket and material: everything after the printing."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from wayfold.base.geometry import Size
from wayfold.book.materials import Grain, Source


class CaseStyle(enum.StrEnum):
    """How the boards are covered."""

    FULL_CLOTH = "full-cloth"
    """One piece of plain cloth, with printed labels."""
    PRINTED_CLOTH = "printed-cloth"
    """One piece of cloth, printed all over."""
    THREE_PIECE = "three-piece-cloth"
    """Printed cloth in three pieces: spine and two sides."""
    QUARTER_CLOTH = "quarter-cloth"
    """A cloth spine and printed paper sides."""


class SpinePiece(enum.StrEnum):
    """What stiffens the spine of the case: thin card that bends, or a strip of board."""

    CARD = "card"
    BOARD = "board"


class Back(enum.StrEnum):
    """The shape of the block's back, seen from the head."""

    FLAT = "flat"
    ROUND = "round"
    """Rounded to a third of a circle, and not backed: it has no shoulders."""


class SpineTurn(enum.StrEnum):
    """Which way the title runs along the spine."""

    BY_LANGUAGE = "by-language"
    HEAD_TO_TAIL = "head-to-tail"
    TAIL_TO_HEAD = "tail-to-head"


@dataclass(frozen=True, slots=True)
class Casing:
    """The case. Lengths in mm; where each number comes from is told in ``case.settings``.

    ``board_less`` is what a board is narrower than a page. ``block`` is the thickness of the sewn
    and pressed block at its spine, once it is measured: it then wins over every estimate.
    ``pressed_factor`` is what the pressed pile of leaves measures, over the sum of their calipers.
    ``cloth_on_board`` None shows a fifth of the board in cloth.
    """

    style: CaseStyle = CaseStyle.QUARTER_CLOTH
    board: float = 2.0
    square: float = 3.0
    board_less: float = 3.5
    joint: float = 8.0
    back: Back = Back.FLAT
    spine: SpinePiece = SpinePiece.CARD
    card: float = 0.5
    turn_in: float = 16.0
    mitre_factor: float = 1.5
    overlap: float = 3.0
    cloth_on_board: float | None = None
    mull_beyond: float = 38.0
    pastedown_margin: float = 3.0
    endpaper_um: float = 160.0
    block: float | None = None
    pressed_factor: float = 1.0
    spine_turn: SpineTurn = SpineTurn.BY_LANGUAGE
    photo: str | None = None
    """A photograph (its id or its file's name) let into the printed front."""
    route: bool = True
    """Whether the journey's line is drawn there instead, where it has places enough."""


class SewingMethod(enum.StrEnum):
    """How gatherings are joined on the spine."""

    LINK = "link-stitch"
    TAPES = "tapes"


@dataclass(frozen=True, slots=True)
class Sewing:
    """The sewing. ``spaces`` and ``tapes`` None follow the height of the book.

    The thread is known by its English lea number and how many strands it has, or better by its
    measured diameter. ``swell_factor`` is how much of the thread's thickness stays in the spine.
    """

    method: SewingMethod = SewingMethod.LINK
    kettle: float = 12.0
    spaces: int | None = None
    tapes: int | None = None
    tape: float = 10.0
    thread_lea: float = 25.0
    thread_ply: int = 3
    thread: float | None = None
    swell_factor: float = 0.5


@dataclass(frozen=True, slots=True)
class PocketItem:
    """Something that goes into the pocket: width x height x thickness in mm, as it stands there."""

    name: str
    width: float
    height: float
    thickness: float


@dataclass(frozen=True, slots=True)
class Pocket:
    """The pocket inside the lower cover; without ``items`` there is none.

    ``strip_um`` is the caliper of the strips that make up for its contents at the spine.
    """

    items: tuple[PocketItem, ...] = ()
    strip_um: float = 160.0


class Material(enum.StrEnum):
    """What pieces of the case are cut from."""

    BOARD = "board"
    CARD = "card"
    CLOTH = "cloth"
    PRINT_CLOTH = "printable cloth"
    COVER_PAPER = "cover paper"
    ENDPAPER = "endpaper"
    POCKET_PAPER = "pocket paper"
    MULL = "mull"
    LINING = "lining paper"
    BAND_CLOTH = "headband cloth"


@dataclass(frozen=True, slots=True)
class Stock:
    """A sheet that the maker has or can buy; ``size`` is width x height in mm, any way up.

    ``price`` is for one sheet, in the maker's own money; for a ``roll`` for one metre of it. A
    roll is ``size.width`` across; its grain runs along it, and ``size.height`` is what is left.
    """

    material: Material
    size: Size
    grain: Grain = Grain.UNKNOWN
    price: float | None = None
    roll: bool = False
    name: str = ""
    source: Source = Source.MEASURED

    @property
    def title(self) -> str:
        """How lists call it."""
        size = f"{self.size.width:g} × {self.size.height:g} mm"
        what = self.name or self.material.value
        return f"{what}, roll {self.size.width:g} mm wide" if self.roll else f"{what}, {size}"


@dataclass(frozen=True, slots=True)
class Costs:
    """What things cost, in ``money``; None where the maker has not said.

    Ink is reckoned between ``ink_white_ml`` and ``ink_black_ml`` for each square metre of picture,
    by how dark it is; ``ink_overhead`` is what cleaning the heads adds.
    """

    money: str = "€"
    paper_sheet: float | None = None
    translucent_sheet: float | None = None
    ink_ml: float | None = None
    thread_m: float | None = None
    ink_white_ml: float = 3.2
    ink_black_ml: float = 16.1
    ink_overhead: float = 0.25


class Practice(enum.StrEnum):
    """How used the maker's hands are to the work."""

    BEGINNER = "beginner"
    PRACTISED = "practised"


@dataclass(frozen=True, slots=True)
class BenchChoices:
    """All that the maker decides of the work at the bench.

    ``stocks`` stand in for the usual ones of the same material. ``dummy_sheet`` is the plain paper
    of the trial book.
    """

    casing: Casing = Casing()
    sewing: Sewing = Sewing()
    pocket: Pocket = Pocket()
    stocks: tuple[Stock, ...] = ()
    costs: Costs = Costs()
    hand: Practice = Practice.BEGINNER
    dummy_sheet: Size = Size(210.0, 148.0)


def _usual(material: Material, width: float, height: float, grain: Grain) -> Stock:
    return Stock(material, Size(width, height), grain, source=Source.ESTIMATED)


USUAL_STOCKS = (
    _usual(Material.BOARD, 700.0, 1000.0, Grain.LONG),
    _usual(Material.CARD, 297.0, 420.0, Grain.LONG),
    Stock(
        Material.CLOTH, Size(1000.0, 1000.0), Grain.LONG, None, roll=True, source=Source.ESTIMATED
    ),
    _usual(Material.PRINT_CLOTH, 329.0, 483.0, Grain.LONG),
    _usual(Material.COVER_PAPER, 329.0, 483.0, Grain.LONG),
    _usual(Material.ENDPAPER, 500.0, 700.0, Grain.LONG),
    _usual(Material.POCKET_PAPER, 500.0, 700.0, Grain.LONG),
    Stock(Material.MULL, Size(900.0, 1000.0), Grain.LONG, None, roll=True, source=Source.ESTIMATED),
    _usual(Material.LINING, 297.0, 420.0, Grain.LONG),
    _usual(Material.BAND_CLOTH, 100.0, 200.0, Grain.LONG),
)
"""What is cut from where the maker has named nothing: common sizes, no single source."""


def find_stocks(choices: BenchChoices, material: Material) -> tuple[Stock, ...]:
    """Give the sheets of a material: the maker's own, or the usual ones."""
    own = tuple(stock for stock in choices.stocks if stock.material is material)
    return own or tuple(stock for stock in USUAL_STOCKS if stock.material is material)
