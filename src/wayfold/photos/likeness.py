"""How like two pictures are: 64 bits from the coarsest waves of the grey picture.

The picture is averaged down to 32 x 32; of its cosine transform (DCT-II) the 8 x 8 lowest waves
above the mean are kept, each as one bit: above their median or not. A change of light or size
leaves the bits alone, another scene flips about half of them.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import numpy.typing as npt

from wayfold.photos.averaging import average_down

SIDE_PX = 32
WAVES = 8
BITS = WAVES * WAVES


def hash_likeness(grey: npt.NDArray[Any]) -> str:
    """Give 64 bits, in 16 hexadecimal digits, of an upright grey picture of any size.

    A picture without any drawing, one colour all over, gives all zeros.
    """
    small = average_down(grey, SIDE_PX, SIDE_PX)
    cosines = _make_cosines()
    waves = cosines @ small @ cosines.T
    # What is left of rounding in an even picture must not become a pattern.
    waves[np.abs(waves) < 1e-6] = 0.0
    bits = (waves > np.median(waves)).ravel()
    return f"{int(''.join('1' if b else '0' for b in bits), 2):016x}"


def count_unlike(one: str, other: str) -> int:
    """Give in how many of the 64 bits two likenesses differ."""
    return (int(one, 16) ^ int(other, 16)).bit_count()


@cache
def _make_cosines() -> npt.NDArray[Any]:
    # The constant wave is the picture's lightness: it tells nothing of what is in it.
    wave = np.arange(1, WAVES + 1)[:, None]
    return np.asarray(np.cos(np.pi * wave * (2 * np.arange(SIDE_PX) + 1) / (2 * SIDE_PX)))
