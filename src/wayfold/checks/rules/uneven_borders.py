"""White borders and gaps that are equal on most pages miss it by a hair on some.

Common practice, no single source: white between and about pictures is one measure, or clearly
another.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.checks.rules.almost_aligned import MEANT
from wayfold.checks.subject import Subject, show_box
from wayfold.layout.model import PageLayout, PictureFrame
from wayfold.plan.paper import is_recto

RULE = "uneven-borders"
FEWEST = 3
"""A measure met so often, and on most pages of the family, is the usual one."""
GRAIN = 0.02
"""Measures are counted in steps of so many mm."""
UNSEEN_GAP, UNSEEN_APART = 0.15, 0.3
"""Steps (mm) nobody sees: in the width of a gap, and in borders of different pages, whose pictures
have their own shapes."""
GAP = "gap between pictures"
TOUCHING = 12.0
"""Pictures farther apart than this (mm) do not stand in one composition."""


@dataclass(frozen=True, slots=True)
class _White:
    page: int
    family: str
    what: str
    width: float


def find_uneven_borders(subject: Subject) -> Iterator[Finding]:
    """Name, once for each page, the white that misses its family's usual measure by a hair.

    Measured are the gaps between neighbours, and the borders at fold, fore-edge and head about the
    pictures of a page that reach no edge; the lower one goes with the height of what hangs there.
    """
    whites = [w for page in subject.pages for w in _measure(subject, page)]
    counts: dict[tuple[str, str], Counter[int]] = {}
    for white in whites:
        counted = counts.setdefault((white.family, white.what), Counter())
        counted[round(white.width / GRAIN)] += 1
    told: set[int] = set()
    for white in whites:
        steps, count = counts[white.family, white.what].most_common(1)[0]
        miss = white.width - steps * GRAIN
        unseen = UNSEEN_GAP if white.what == GAP else UNSEEN_APART
        most = count >= FEWEST and 2 * count > counts[white.family, white.what].total()
        if not most or not unseen < abs(miss) < MEANT or white.page in told:
            continue
        told.add(white.page)
        yield Finding(
            RULE,
            Severity.WARN,
            f"page {white.page}",
            f"The {white.what} is {white.width:.2f} mm wide; on pages of this kind it is "
            f"{steps * GRAIN:.2f} mm.",
            "Lay the page out again; a picture set by hand may miss the line.",
        )


def _measure(subject: Subject, page: PageLayout) -> Iterator[_White]:
    trim = subject.page
    boxes = [
        box
        for frame in page.frames
        if isinstance(frame, PictureFrame) and (box := show_box(frame, trim)) is not None
    ]
    for one, other in permutations(boxes, 2):
        for gap in (_gap_right(one, other), _gap_below(one, other)):
            if gap is not None and 0 < gap < TOUCHING:
                yield _White(page.number, page.family, GAP, gap)
    if not boxes:
        return
    left, right = min(b.x for b in boxes), trim.width - max(b.right for b in boxes)
    inner, outer = (left, right) if is_recto(page.number) else (right, left)
    head, foot = min(b.y for b in boxes), trim.height - max(b.bottom for b in boxes)
    if min(inner, outer, head, foot) > 0:
        borders = {"fold": inner, "fore-edge": outer, "head": head}
        for side, width in borders.items():
            yield _White(page.number, page.family, f"white at the {side}", width)


def _gap_right(one: Rect, other: Rect) -> float | None:
    """The white from one picture to another on its right, where they stand side by side."""
    beside = min(one.bottom, other.bottom) - max(one.y, other.y) > TOUCHING
    return other.x - one.right if beside and other.x > one.x else None


def _gap_below(one: Rect, other: Rect) -> float | None:
    over = min(one.right, other.right) - max(one.x, other.x) > TOUCHING
    return other.y - one.bottom if over and other.y > one.y else None
