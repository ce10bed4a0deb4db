"""Creep: inner sheets of a gathering stand out at the fore-edge by the paper folded round them."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True)
class Nest:
    """How far (mm) the leaves of each sheet of a gathering are moved toward the fold.

    ``paper`` from the outermost sheet inwards; ``interleaves`` in the order they were given.
    """

    paper: tuple[float, ...]
    interleaves: tuple[float, ...] = ()


def move_to_fold(
    sheets: int,
    caliper_um: float,
    binding: Binding,
    depths: Sequence[int] = (),
    interleaf_caliper_um: float = 0.0,
) -> Nest:
    """Give how far the leaves of a gathering are moved toward the fold.

    As far as they stand out where the fore-edges are cut flush; not at all where they stay uncut.
    ``depths`` are those of the interleaves folded into it: so many paper sheets lie outside each;
    of two at one depth the one named first lies outside.
    """
    # At one depth the interleaves come before the paper sheet inside them.
    nest = [(d, 0, i) for i, d in enumerate(depths)] + [(d, 1, d) for d in range(sheets)]
    nest.sort()
    calipers = [caliper_um if is_paper else interleaf_caliper_um for _, is_paper, _ in nest]
    moves = dict(zip(nest, push_out(calipers, binding.creep_coefficient), strict=True))
    if not binding.trim_fore_edge:
        moves = dict.fromkeys(moves, 0.0)
    return Nest(
        tuple(moves[d, 1, d] for d in range(sheets)),
        tuple(moves[d, 0, i] for i, d in enumerate(depths)),
    )
