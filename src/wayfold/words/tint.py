"""A chapter's pastel: the one tint that its washes are painted in, taken from its pictures.

Thresholds are our own (no paper behind the exact numbers) but for the hues and lightnesses of
skin, which are common practice in finding it.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from wayfold.drawing.colour import Colour
from wayfold.drawing.oklab import Oklab, make_colour, make_oklch, read_oklab, turn_between
from wayfold.photos.look import Look, Tone

FAMILY = 40.0
"""So far (degrees) hues of a chapter's washes may lie apart, and from its accent: half of it the
chapter's tint from the accent, half of it each wash from the chapter's tint."""
LIGHTNESS, LIGHTNESS_RANGE = 0.94, 0.015
LEAST_CHROMA, MOST_CHROMA = 0.02, 0.045
"""Less vanishes on uncoated paper; more is no pastel."""
CHROMA_KEPT = 0.15
COLOURFUL = 0.04
"""Tones of less chroma are greys: they have no say in the hue."""
AGREED = 0.3
"""Hues less concentrated than this (0 all round, 1 all alike) have no mean."""
NEUTRAL_HUE = 75.0
"""The warm of unbleached paper, for chapters of all colours and of none."""
SKIN_HUES, SKIN_LIGHTNESS = (35.0, 70.0), (0.5, 0.85)
_STEP, _HUE_STEP = 0.005, 5.0
"""Tints are told in steps, so that a new picture seldom moves one and printed sheets stay good."""


@dataclass(frozen=True, slots=True)
class Tint:
    """A pastel. ``hue_deg`` is None for the neutral warm, which goes with every hue."""

    colour: Colour
    hue_deg: float | None

    @property
    def seen(self) -> Oklab:
        """The colour as it is printed."""
        return read_oklab(self.colour)


@dataclass(frozen=True, slots=True)
class _Leaning:
    """Where colours lean: their mean hue, how far they agree on it (0-1), their mean chroma."""

    hue_deg: float
    agreement: float
    chroma: float
    lightness: float


def choose_chapter_tint(looks: Iterable[Look], accent: Colour | None = None) -> Tint:
    """Give the tint of a chapter from its pictures' palettes; neutral where they do not agree.

    The hue stays within half of ``FAMILY`` of the accent's, where one is given that has a hue.
    """
    leaning = _weigh(list_tones(looks))
    if leaning is None or leaning.agreement < AGREED:
        return _make_tint(LIGHTNESS, LEAST_CHROMA, None)
    hue = _round(leaning.hue_deg, _HUE_STEP)
    given = read_oklab(accent) if accent else None
    if given is not None and given.chroma >= COLOURFUL:
        hue = _hold(hue, given.hue_deg, FAMILY / 2)
    return _make_tint(_soften(leaning.lightness), CHROMA_KEPT * leaning.chroma, hue)


def vary_tint(chapter: Tint, looks: Iterable[Look]) -> Tint:
    """Give the tint of one wash: the chapter's, leaning towards the pictures beside it.

    Any two of a chapter lie at most ``FAMILY`` apart.
    """
    leaning = _weigh(list_tones(looks))
    if chapter.hue_deg is None or leaning is None or leaning.agreement < AGREED:
        return chapter
    hue = _hold(_round(leaning.hue_deg, _HUE_STEP), chapter.hue_deg, FAMILY / 2)
    return _make_tint(_soften(leaning.lightness), CHROMA_KEPT * leaning.chroma, hue)


def list_tones(looks: Iterable[Look]) -> tuple[Tone, ...]:
    """Give the colours of pictures; those of skin lose what the pictures' faces take of them.

    A palette does not tell where a colour lies, so as much of the skin's hue is left out as the
    faces are large.
    """
    tones: list[Tone] = []
    for look in looks:
        left = sum(face.box.area for face in look.faces)
        for tone in sorted(look.palette, key=lambda t: -t.share):
            taken = min(left, tone.share) if _is_like_skin(tone) else 0.0
            left -= taken
            tones.append(Tone(tone.share - taken, tone.lightness, tone.a, tone.b))
    return tuple(tones)


def _is_like_skin(tone: Tone) -> bool:
    hue = Oklab(tone.lightness, tone.a, tone.b).hue_deg
    return (
        SKIN_HUES[0] <= hue <= SKIN_HUES[1]
        and SKIN_LIGHTNESS[0] <= tone.lightness <= SKIN_LIGHTNESS[1]
    )


def _weigh(tones: Sequence[Tone]) -> _Leaning | None:
    """Give where colourful tones lean, each weighed by its area and chroma; None if there are none.

    The mean of angles is the angle of the sum of their vectors (Mardia and Jupp, Directional
    Statistics, 2.2), its concentration the length of that sum in its weights.
    """
    seen = [(t.share, Oklab(t.lightness, t.a, t.b)) for t in tones]
    told = [(share, c) for share, c in seen if share > 0 and c.chroma > COLOURFUL]
    weight = sum(share * c.chroma for share, c in told)
    if weight <= 0:
        return None
    total = sum(share * complex(c.a, c.b) for share, c in told)
    area = sum(share for share, _ in told)
    return _Leaning(
        hue_deg=math.degrees(cmath.phase(total)) % 360.0,
        agreement=abs(total) / weight,
        chroma=weight / area,
        lightness=sum(share * c.lightness for share, c in told) / area,
    )


def _soften(lightness: float) -> float:
    """A chapter of light pictures has a lighter tint, one of dark pictures a deeper one."""
    leaning = min(max(2 * lightness - 1.0, -1.0), 1.0)
    return LIGHTNESS + LIGHTNESS_RANGE * leaning


def _hold(hue_deg: float, family_deg: float, most: float) -> float:
    away = turn_between(family_deg, hue_deg)
    return (family_deg + min(max(away, -most), most)) % 360.0


def _make_tint(lightness: float, chroma: float, hue_deg: float | None) -> Tint:
    lightness = _round(lightness, _STEP)
    chroma = _round(min(max(chroma, LEAST_CHROMA), MOST_CHROMA), _STEP)
    hue = NEUTRAL_HUE if hue_deg is None else hue_deg
    return Tint(make_colour(make_oklch(lightness, chroma, hue)), hue_deg)


def _round(value: float, step: float) -> float:
    return round(value / step) * step
