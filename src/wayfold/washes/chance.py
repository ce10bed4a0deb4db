"""Chance that is the same each time: numbers that follow from a name."""

from __future__ import annotations

import numpy as np

from wayfold.base.hashing import hash_values


def make_chance(*names: object) -> np.random.Generator:
    """Give the chance that belongs to some names; only its ``random`` is used, which stays alike.

    The bits of PCG64 are fixed (O'Neill 2014), the shapes that NumPy makes of them but for uniform
    numbers are not (NEP 19).
    """
    return np.random.Generator(np.random.PCG64(int(hash_values(*names), 16)))
