"""Creep: inner sheets of a gathering stand out at the fore-edge by the paper folded round them."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from wayfold.base.units import mm_from_um
from wayfold.book.materials import Binding


def push_out(calipers_um: Sequence[float], coefficient: float) -> tuple[float, ...]:
    """Give how far (mm) each sheet stands out, from the outermost (0) inwards.

    Sheet i stands out by ``coefficient`` times the thickness of all sheets outside it. The
    coefficient is 1 for hard folds, where each sheet goes round the others like a box, and pi/2
    for round ones, where it goes round in a half circle; real folds lie between.
    """
    outside = itertools.accumulate(calipers_um, initial=0.0)
    return tuple(coefficient * mm_from_um(t) for t in outside)[: len(calipers_um)]


def move_to_fold(sheets: int, caliper_um: float, binding: Binding) -> tuple[float, ...]:
    """Give how far (mm) the pages of each sheet are moved toward the fold, outermost first.

    As far as they stand out where the fore-edges are cut flush; not at all where they stay uncut.
    """
    if not binding.trim_fore_edge:
        return (0.0,) * sheets
    return push_out([caliper_um] * sheets, binding.creep_coefficient)
