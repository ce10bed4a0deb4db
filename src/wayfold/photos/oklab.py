"""OKLab, in which equal steps look about equal.

B. Ottosson, "A perceptual color space for image processing", 2020; sRGB after IEC 61966-2-1.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

_TO_CONES = np.array(
    [
        [0.4122214708, 0.5363325363, 0.0514459929],
        [0.2119034982, 0.6806995451, 0.1073969566],
        [0.0883024619, 0.2817188376, 0.6299787005],
    ]
)
_TO_LAB = np.array(
    [
        [0.2104542553, 0.7936177850, -0.0040720468],
        [1.9779984951, -2.4285922050, 0.4505937099],
        [0.0259040371, 0.7827717662, -0.8086757660],
    ]
)


def to_linear(rgb: npt.NDArray[Any]) -> npt.NDArray[np.float64]:
    """Give linear light (0-1) of sRGB values (0-1)."""
    return np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)


def to_oklab(rgb: npt.NDArray[Any]) -> npt.NDArray[np.float64]:
    """Give lightness, a and b of sRGB values (0-1), the last axis holding the three."""
    cones = np.cbrt(to_linear(np.asarray(rgb, dtype=np.float64)) @ _TO_CONES.T)
    return np.asarray(cones @ _TO_LAB.T)
