"""Paper, printer and binding: what the book is made of and made with."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from wayfold.base.geometry import Size


class Grain(enum.StrEnum):
    """The direction of the paper's fibres, as the person found it."""

    LONG = "long"
    SHORT = "short"
    UNKNOWN = "unknown"


class Surface(enum.StrEnum):
    """What ink meets: a coat that holds it where it falls, or bare fibres in which it spreads."""

    COATED = "coated"
    UNCOATED = "uncoated"


class Source(enum.StrEnum):
    """Where a number comes from."""

    MEASURED = "measured"
    MAKER = "maker"
    ESTIMATED = "estimated"


@dataclass(frozen=True, slots=True)
class Paper:
    """The sheet that goes through the printer; ``sheet`` is width x height in mm, any way up."""

    name: str = "double-sided matte, A3+"
    sheet: Size = Size(483.0, 329.0)
    grammage_gsm: float = 190.0
    caliper_um: float = 240.0
    caliper_source: Source = Source.ESTIMATED
    grain: Grain = Grain.UNKNOWN
    surface: Surface = Surface.COATED


class LeafInk(enum.StrEnum):
    """Which sides of a translucent sheet take ink.

    Folded, its two leaves show their rectos on opposite sides of the sheet.
    """

    BOTH_SIDES = "both-sides"
    """Each leaf on the side that is read: sharpest, two passes."""
    ONE_SIDE = "one-side"
    """One of the leaves mirrored on its other face and read through it: one pass, softer."""


@dataclass(frozen=True, slots=True)
class Translucent:
    """The sheet that interleaves are made of; ``sheet`` is width x height in mm, any way up.

    Natural tracing paper is about 1.2 g/cm3 dense, so 112 g/m2 are some 93 µm thick; a maker who
    has the paper at hand measures it.
    """

    name: str = "translucent paper, A3+"
    sheet: Size = Size(483.0, 329.0)
    grammage_gsm: float = 112.0
    caliper_um: float = 90.0
    caliper_source: Source = Source.ESTIMATED
    ink: LeafInk = LeafInk.BOTH_SIDES
    read_through: tuple[int, ...] = ()
    """Pages after which a leaf lies whose faces are printed mirrored, to be read through it."""
    both_sides: tuple[int, ...] = ()
    """Pages after which a leaf lies that is printed on its own faces, whatever ``ink`` says."""
    reflectance: float = 0.25
    """What it gives back of the light over black (0-1); plausible, measured on no paper."""
    transmittance: float = 0.68
    """What it lets through (0-1); plausible, measured on no paper."""
    gap: float = 0.2
    """How far (mm) it lies over the page, by its own weight; an estimate."""
    haze_deg: float = 25.0
    """Half of the light it scatters stays within so many degrees; an estimate, 45 the worst."""


class Duplex(enum.StrEnum):
    """How the back of a sheet gets printed: which edge the sheet turns about."""

    SHORT_EDGE = "short-edge"
    LONG_EDGE = "long-edge"
    MANUAL = "manual"
    """Fronts first; the person turns the stack about its short edge and feeds it again."""


class BackOrder(enum.StrEnum):
    """In which order the backs are printed by hand."""

    SAME = "same"
    """As the fronts: the pile, turned over as one, has the first sheet on top."""
    REVERSED = "reversed"
    """The last sheet first."""


class Feed(enum.StrEnum):
    """Which edge of the sheet goes into the printer first."""

    SHORT_EDGE = "short-edge"
    LONG_EDGE = "long-edge"


@dataclass(frozen=True, slots=True)
class Printer:
    """The printer; the margins (mm) are what it cannot print on, with the sheet lying landscape.

    ``back_order`` counts where sheets are turned by hand only.
    """

    name: str = "A3+ inkjet"
    margin_left: float = 5.0
    margin_right: float = 5.0
    margin_head: float = 3.0
    margin_foot: float = 3.0
    duplex: Duplex = Duplex.SHORT_EDGE
    back_order: BackOrder = BackOrder.SAME
    feed: Feed = Feed.SHORT_EDGE
    profile: str = ""
    """The ICC profile for this printer and paper, a file in the book's folder, for soft proofs."""


@dataclass(frozen=True, slots=True)
class Binding:
    """How the sheets are folded and gathered.

    ``creep_coefficient`` multiplies the paper's thickness (1 = hard folds, pi/2 = round folds);
    ``trim_fore_edge`` says whether the fore edges are cut flush, so that creep is compensated;
    untrimmed edges need no shift. ``sheets_min``/``sheets_max`` bound the sheets in a gathering;
    None takes what the paper's caliper allows. ``sheets_preferred`` None takes the caliper's.
    """

    creep_coefficient: float = 1.2
    trim_fore_edge: bool = True
    sheets_min: int | None = None
    sheets_max: int | None = None
    sheets_preferred: int | None = None
