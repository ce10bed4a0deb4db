"""Cutting plans: pieces laid on sheets so that every cut runs from edge to edge.

Straight cuts from edge to edge are what a board shear, a guillotine or a knife along a rule make
well. Pieces with a grain are never turned against it. Plans are sought by laying the pieces in
many orders and by several rules, and keeping the best: fewest sheets (or the shortest piece of a
roll), then the largest offcut in one piece, then the fewest cuts.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from wayfold.base.geometry import TOLERANCE, Rect, Size

ORDERS_MAX = 60
"""Orders of the pieces that are tried with every rule."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece to cut; its grain runs along its height unless it may lie ``any_way``."""

    name: str
    size: Size
    any_way: bool = False


@dataclass(frozen=True, slots=True)
class Laid:
    """A piece on its sheet; ``turned`` lies with its height across."""

    piece: int
    box: Rect
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Cut:
    """A cut right through ``region``: level at y = ``at``, or upright at x = ``at``."""

    region: Rect
    level: bool
    at: float


@dataclass(frozen=True, slots=True)
class CutSheet:
    """A sheet with its grain upright, what lies on it, the cuts in order, and what is left over."""

    size: Size
    laid: tuple[Laid, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Rect, ...]

    @property
    def used(self) -> float:
        """Area of the pieces (mm2)."""
        return sum(laid.box.area for laid in self.laid)

    @property
    def waste(self) -> float:
        """What is not used, over the whole: 0 to 1."""
        return 1 - self.used / (self.size.width * self.size.height)


@dataclass(frozen=True, slots=True)
class _Bin:
    size: Size
    free: tuple[Rect, ...]
    laid: tuple[Laid, ...] = ()
    cuts: tuple[Cut, ...] = ()


_Fit = Callable[[Rect, Size], tuple[float, ...]]
_Split = Callable[[Rect, Size], bool]

_FITS: tuple[_Fit, ...] = (
    lambda free, s: (free.area - s.width * s.height,),
    lambda free, s: (min(free.width - s.width, free.height - s.height),),
    lambda free, _: (free.y, free.x),
)
"""Which free part takes a piece: the smallest, the one it fits most tightly, the first."""
_SPLITS: tuple[_Split, ...] = (
    lambda free, s: (free.width - s.width) * s.height <= s.width * (free.height - s.height),
    lambda free, s: free.width - s.width < free.height - s.height,
    lambda _free, _size: True,
    lambda _free, _size: False,
)
"""Whether the first cut beside a piece is level: by area left, by length left, always, never."""


def plan_cuts(pieces: Sequence[Piece], sheet: Size) -> tuple[CutSheet, ...] | None:
    """Lay pieces on as few sheets as can be found; ``sheet`` has its grain upright.

    Gives None where a piece is larger than the sheet.
    """
    if not all(_lies_on(piece, sheet) for piece in pieces):
        return None
    best: tuple[tuple[float, ...], tuple[CutSheet, ...]] | None = None
    lying = tuple(_lie_down(piece, sheet) for piece in pieces)
    ways = (pieces, lying) if lying != tuple(pieces) else (pieces,)
    tries = itertools.product(ways, _orders(pieces), _FITS, _SPLITS)
    for way, order, fit, split in tries:
        plan = tuple(_name_turned(s, pieces) for s in _lay(order, way, sheet, fit, split))
        key = _judge(plan)
        if best is None or key < best[0]:
            best = key, plan
    return best[1] if best else ()


def plan_roll(pieces: Sequence[Piece], width: float, length: float) -> CutSheet | None:
    """Lay pieces on the shortest piece of a roll; its grain runs along it.

    Gives None where they do not fit on ``length`` mm of it.
    """
    best: CutSheet | None = None
    for wanted in _lengths(pieces, length):
        plan = plan_cuts(pieces, Size(width, wanted))
        if plan is not None and len(plan) == 1:
            best = plan[0]
            break
    return best


def _lie_down(piece: Piece, sheet: Size) -> Piece:
    """A piece without grain, laid on its longer side for good where the sheet is wide enough."""
    if not piece.any_way or piece.size.height > sheet.width:
        return piece
    size = piece.size.turned if piece.size.height > piece.size.width else piece.size
    return replace(piece, size=size, any_way=False)


def _name_turned(sheet: CutSheet, pieces: Sequence[Piece]) -> CutSheet:
    """Say of every piece laid whether it lies turned, by the sizes."""
    laid = tuple(
        replace(one, turned=abs(one.box.width - pieces[one.piece].size.width) > TOLERANCE)
        for one in sheet.laid
    )
    return replace(sheet, laid=laid)


def _judge(plan: Sequence[CutSheet]) -> tuple[float, ...]:
    last = max((max((o.area for o in s.offcuts), default=0.0) for s in plan), default=0.0)
    return (len(plan), -round(last, 3), sum(len(s.cuts) for s in plan))


def _lies_on(piece: Piece, sheet: Size) -> bool:
    return any(_fits(size, Rect(0.0, 0.0, sheet.width, sheet.height)) for _, size in _ways(piece))


def _ways(piece: Piece) -> Iterator[tuple[bool, Size]]:
    yield False, piece.size
    if piece.any_way and piece.size.width != piece.size.height:
        yield True, piece.size.turned


def _fits(size: Size, room: Rect) -> bool:
    return size.width <= room.width + TOLERANCE and size.height <= room.height + TOLERANCE


def _orders(pieces: Sequence[Piece]) -> Iterator[tuple[int, ...]]:
    """Orders worth trying: by size in several ways, then others, equal pieces not told apart."""
    kinds = [(p.size.width, p.size.height, p.any_way) for p in pieces]
    everything = range(len(pieces))
    keys: tuple[Callable[[int], float], ...] = (
        lambda i: -kinds[i][0] * kinds[i][1],
        lambda i: -kinds[i][1],
        lambda i: -kinds[i][0],
        lambda i: -max(kinds[i][:2]),
        lambda i: -(kinds[i][0] + kinds[i][1]),
    )
    sorted_ways = (tuple(sorted(everything, key=key)) for key in keys)
    seen: set[tuple[tuple[float, float, bool], ...]] = set()
    for order in itertools.islice(itertools.chain(sorted_ways, _shuffles(kinds)), 40 * ORDERS_MAX):
        shape = tuple(kinds[i] for i in order)
        if shape not in seen:
            seen.add(shape)
            yield order
            if len(seen) >= ORDERS_MAX:
                return


def _shuffles(kinds: Sequence[tuple[float, float, bool]]) -> Iterator[tuple[int, ...]]:
    """All orders where there are few, else the order by area with one or two pieces moved."""
    base = sorted(range(len(kinds)), key=lambda i: -kinds[i][0] * kinds[i][1])
    if len(base) <= 5:
        yield from itertools.permutations(base)
        return
    for source, target in itertools.product(range(len(base)), repeat=2):
        moved = [*base]
        moved.insert(target, moved.pop(source))
        yield tuple(moved)


def _lay(
    order: Iterable[int], pieces: Sequence[Piece], sheet: Size, fit: _Fit, split: _Split
) -> tuple[CutSheet, ...]:
    whole = Rect(0.0, 0.0, sheet.width, sheet.height)
    bins: list[_Bin] = []
    for index in order:
        piece = pieces[index]
        for at, held in enumerate(bins):
            filled = _place(index, piece, held, fit, split)
            if filled is not None:
                bins[at] = filled
                break
        else:
            fresh = _place(index, piece, _Bin(sheet, (whole,)), fit, split)
            assert fresh is not None
            bins.append(fresh)
    return tuple(CutSheet(b.size, b.laid, b.cuts, b.free) for b in bins)


def _place(index: int, piece: Piece, held: _Bin, fit: _Fit, split: _Split) -> _Bin | None:
    choices = [
        (fit(free, size), at, turned, size)
        for at, free in enumerate(held.free)
        for turned, size in _ways(piece)
        if _fits(size, free)
    ]
    if not choices:
        return None
    _, at, turned, size = min(choices, key=lambda c: c[0])
    free = held.free[at]
    box = Rect(free.x, free.y, size.width, size.height)
    cuts, rest = _divide(free, size, level_first=split(free, size))
    return replace(
        held,
        free=(*held.free[:at], *held.free[at + 1 :], *rest),
        laid=(*held.laid, Laid(index, box, turned)),
        cuts=(*held.cuts, *cuts),
    )


def _divide(free: Rect, size: Size, *, level_first: bool) -> tuple[list[Cut], list[Rect]]:
    """Cut a piece out of the head-left corner of a free part: the cuts, and what is left."""
    x, y = free.x + size.width, free.y + size.height
    beside, below = free.right - x > TOLERANCE, free.bottom - y > TOLERANCE
    cuts, rest = [], []
    row = Rect(free.x, free.y, free.width, size.height)
    column = Rect(free.x, free.y, size.width, free.height)
    if level_first:
        if below:
            cuts.append(Cut(free, True, y))
            rest.append(Rect(free.x, y, free.width, free.bottom - y))
        if beside:
            cuts.append(Cut(row if below else free, False, x))
            rest.append(Rect(x, free.y, free.right - x, size.height if below else free.height))
        return cuts, rest
    if beside:
        cuts.append(Cut(free, False, x))
        rest.append(Rect(x, free.y, free.right - x, free.height))
    if below:
        cuts.append(Cut(column if beside else free, True, y))
        rest.append(Rect(free.x, y, size.width if beside else free.width, free.bottom - y))
    return cuts, rest


def _lengths(pieces: Sequence[Piece], most: float) -> list[float]:
    """Lengths of a roll that pieces may end at: sums of their heights, the shortest first."""
    sums = {0.0}
    for piece in pieces:
        for _, size in _ways(piece):
            sums |= {round(s + size.height, 3) for s in sums}
        if len(sums) > 4000:
            break
    return sorted(s for s in sums if 0 < s <= most + TOLERANCE)
