"""How good two facing pages are together: six measures from 0 to 1, and one number of them all.

After the measures of S. Harrington et al., "Aesthetic measures for automated document layout",
DocEng 2004, and joined as theirs. That pictures should look into the page: S. Palmer, J. Gardner
and T. Wickens, Spatial Vision 21, 2008. The numbers are our own unless a source is named.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from wayfold.base.geometry import Rect, Size
from wayfold.layout.calm import CLEARLY_APART, SAME_LINE
from wayfold.layout.palette_distance import measure_distance, merge_tones
from wayfold.layout.white import measure_white
from wayfold.photos.look import Tone

OPTICAL_CENTRE = 0.48
"""Height of a spread's optical centre from its head, as a part of its height."""
WHITE_OF_GROUPS, WHITE_OF_SCATTERED = 0.12, 0.45
"""The part of the picture areas that should stay white."""
TOO_LITTLE, TOO_MUCH = 0.08, 0.2
"""How sternly less white and more white than that is held against a spread."""
MOST_TRAPPED = 0.03
"""The most open white shut in by pictures, as a part of the spread."""
CELL, OPEN = 2.0, 5
"""Side (mm) of the cells by which white is measured; open where a square of so many fits."""
COLOURS_NEAR, COLOURS_FAR = 0.12, 0.32
"""Palettes nearer than the first (OKLab) agree; from the second on nothing joins them."""
ALIKE = 0.05
"""Tones in a cube of this side (OKLab) are taken as one."""
NEUTRAL = 0.04
"""A tone of less chroma (OKLab) was grey: its colour is that of the light."""
LIGHT_NEAR, LIGHT_FAR = 0.015, 0.06
"""The same two for the greys of facing pages: a jump of the white balance."""
WEIGHTS = {
    "balance": 0.2,
    "alignment": 0.2,
    "clearness": 0.2,
    "facing": 0.1,
    "colour": 0.15,
    "white": 0.15,
}
LEAST = 0.05
"""No measure counts as less than this, or one alone would decide."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture on a spread: x runs from the left page's outer edge over both pages, in mm.

    ``contrast`` (0-1) is how strongly it draws the eye; ``facing`` where it looks, from -1 (left)
    to 1 (right), 0 for nowhere; ``palette`` its colours, empty where they are not known.
    """

    rect: Rect
    contrast: float = 0.5
    facing: float = 0.0
    palette: tuple[Tone, ...] = ()


@dataclass(frozen=True, slots=True)
class SpreadScore:
    """Each measure of a spread, and ``total``, all from 0 to 1."""

    balance: float
    alignment: float
    clearness: float
    facing: float
    colour: float
    white: float
    total: float


def score_spread(
    shown: Sequence[Shown], spread: Size, fields: Sequence[Rect], white_wanted: float
) -> SpreadScore:
    """Score the pictures of two facing pages.

    ``spread`` is the size of both pages (mm), the fold in the middle; ``fields`` are the picture
    areas, of which ``white_wanted`` should stay white. Raises ValueError where nothing is shown.
    """
    if not shown:
        raise ValueError("a spread without pictures has no score")
    measures = {
        "balance": measure_balance(shown, spread),
        "alignment": measure_alignment([s.rect for s in shown], spread),
        "clearness": measure_clearness([s.rect for s in shown]),
        "facing": measure_facing(shown, spread),
        "colour": measure_colour(shown, spread),
        "white": measure_whiteness([s.rect for s in shown], spread, fields, white_wanted),
    }
    total = join_scores(
        [max(LEAST, value) for value in measures.values()], [WEIGHTS[name] for name in measures]
    )
    return SpreadScore(**measures, total=total)


def join_scores(scores: Sequence[float], weights: Sequence[float], power: float = 1.0) -> float:
    """Join scores (over 0) as Harrington et al. do: (sum of w_k V_k^-p)^(-1/p), weights to 1.

    One bad score spoils the whole: (1, 1, 0.1) of equal weights is 0.25.
    """
    total = sum(weights)
    joined = sum(w / total * v**-power for v, w in zip(scores, weights, strict=True))
    return float(joined ** (-1.0 / power))


def measure_balance(shown: Sequence[Shown], spread: Size) -> float:
    """How near the pictures' common centre lies to the optical one; 0 at half the diagonal off.

    A picture weighs its area times 0.5 to 1, by its contrast.
    """
    masses = [s.rect.area * (0.5 + 0.5 * s.contrast) for s in shown]
    x = sum(m * s.rect.center.x for m, s in zip(masses, shown, strict=True)) / sum(masses)
    y = sum(m * s.rect.center.y for m, s in zip(masses, shown, strict=True)) / sum(masses)
    off = math.hypot(x - spread.width / 2, y - OPTICAL_CENTRE * spread.height)
    return max(0.0, 1.0 - off / (0.5 * math.hypot(spread.width, spread.height)))


def measure_alignment(rects: Sequence[Rect], spread: Size) -> float:
    """How few lines the edges and middles need: 1 for one line of each kind, 0 for none shared.

    Heads, middles and feet are compared over both pages. Sideways the right page is the left one's
    mirror image, as margins are: inner edges go with inner ones.
    """
    kinds: dict[str, list[float]] = {"head": [], "middle": [], "foot": []}
    kinds |= {"inner": [], "centre": [], "outer": []}
    fold = spread.width / 2
    for rect in rects:
        kinds["head"].append(rect.y)
        kinds["middle"].append(rect.center.y)
        kinds["foot"].append(rect.bottom)
        left, right = fold - rect.x, rect.right - fold
        if left > 0 and right > 0:
            kinds["outer"] += [left, right]
            continue
        kinds["outer"].append(max(left, right))
        kinds["inner"].append(-min(left, right))
        kinds["centre"].append(abs(rect.center.x - fold))
    drawn = sum(_count_lines(values) for values in kinds.values())
    fewest = sum(1 for values in kinds.values() if values)
    most = sum(len(values) for values in kinds.values())
    return 1.0 if most == fewest else 1.0 - (drawn - fewest) / (most - fewest)


def _count_lines(values: Iterable[float]) -> int:
    ordered = sorted(values)
    return bool(ordered) + sum(b - a > SAME_LINE for a, b in pairwise(ordered))


def measure_clearness(rects: Sequence[Rect]) -> float:
    """1 where no heads or feet, of one page or of both, are nearly on one line; less for each."""
    nearly = 0
    for values in ([r.y for r in rects], [r.bottom for r in rects]):
        nearly += sum(SAME_LINE < b - a < CLEARLY_APART for a, b in pairwise(sorted(values)))
    return 1.0 / (1.0 + 0.6 * nearly)


def measure_facing(shown: Sequence[Shown], spread: Size) -> float:
    """1 where all that looks somewhere looks at the fold, less by what looks out of the book."""
    fold = spread.width / 2
    looking = [s for s in shown if s.facing and not s.rect.x < fold < s.rect.right]
    total = sum(s.rect.area for s in looking)
    lost = 0.0
    for one in looking:
        outwards = one.facing if one.rect.center.x > fold else -one.facing
        lost += one.rect.area * max(0.0, outwards)
    return 1.0 - lost / total if total else 1.0


def measure_colour(shown: Sequence[Shown], spread: Size) -> float:
    """How well the colours of the two pages go together; 1 where a page has none."""
    fold = spread.width / 2
    left = _mix_palette((s, Rect(0.0, 0.0, fold, spread.height)) for s in shown)
    right = _mix_palette((s, Rect(fold, 0.0, fold, spread.height)) for s in shown)
    if not left or not right:
        return 1.0
    apart = measure_distance(merge_tones(left, ALIKE), merge_tones(right, ALIKE))
    colours = _fade(apart, COLOURS_NEAR, COLOURS_FAR)
    lights = _light_of(left), _light_of(right)
    if lights[0] is None or lights[1] is None:
        return colours
    jump = abs(lights[0][0] - lights[1][0]) + abs(lights[0][1] - lights[1][1])
    return colours * _fade(jump, LIGHT_NEAR, LIGHT_FAR)


def _mix_palette(parts: Iterable[tuple[Shown, Rect]]) -> list[Tone]:
    """Give the colours of a page, by the area of each picture on it."""
    mixed = []
    for shown, page in parts:
        there = shown.rect.overlap(page)
        if there:
            mixed += [replace(tone, share=tone.share * there.area) for tone in shown.palette]
    return mixed


def _light_of(palette: Sequence[Tone]) -> tuple[float, float] | None:
    """Give the mean a and b of the nearly neutral tones, or None where there are none."""
    grey = [t for t in palette if math.hypot(t.a, t.b) < NEUTRAL]
    total = sum(t.share for t in grey)
    if total <= 0:
        return None
    return sum(t.share * t.a for t in grey) / total, sum(t.share * t.b for t in grey) / total


def _fade(value: float, near: float, far: float) -> float:
    return min(1.0, max(0.0, 1.0 - (value - near) / (far - near)))


def measure_whiteness(
    rects: Sequence[Rect], spread: Size, fields: Sequence[Rect], wanted: float
) -> float:
    """How near the white of the fields comes to what is wanted; 0 where too much is shut in."""
    columns, rows = round(spread.width / CELL), round(spread.height / CELL)
    page = Rect(0.0, 0.0, columns * CELL, rows * CELL)
    on_page = [part for r in rects if (part := r.overlap(page))]
    covered = [
        (round(r.x / CELL), round(r.y / CELL), round(r.right / CELL), round(r.bottom / CELL))
        for r in on_page
    ]
    if measure_white(columns, rows, covered, OPEN).trapped > MOST_TRAPPED * columns * rows:
        return 0.0
    area = sum(field.area for field in fields)
    filled = sum(part.area for f in fields for r in rects if (part := r.overlap(f)))
    more = 1.0 - filled / area - wanted
    return math.exp(-((more / (TOO_MUCH if more > 0 else TOO_LITTLE)) ** 2))
