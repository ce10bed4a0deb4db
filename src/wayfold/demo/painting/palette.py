"""The colours of the hours."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from wayfold.demo.painting.noise import Plane


@dataclass(frozen=True, slots=True)
class Hour:
    """The light of one hour: colours as red, green, blue (0..1), sun as fractions of the picture.

    ``haze`` is how much of the far land the air takes, ``stars`` how many there are.
    """

    zenith: Plane
    horizon: Plane
    cloud: Plane
    sun: Plane
    sun_x: float
    sun_y: float
    light: float
    haze: float
    warmth: Plane
    stars: int = 0
    windows: float = 0.0


def colour(text: str) -> Plane:
    """Give red, green, blue (0..1) from six hexadecimal digits."""
    return np.array([int(text[i : i + 2], 16) / 255 for i in (0, 2, 4)], dtype=np.float32)


HOURS = {
    "morning": Hour(
        zenith=colour("8fb1cf"),
        horizon=colour("f3dfc4"),
        cloud=colour("fdf0e2"),
        sun=colour("fff1cf"),
        sun_x=0.24,
        sun_y=0.44,
        light=0.92,
        haze=0.82,
        warmth=colour("fff0dc"),
    ),
    "noon": Hour(
        zenith=colour("3f7cb4"),
        horizon=colour("c6dbe6"),
        cloud=colour("ffffff"),
        sun=colour("ffffff"),
        sun_x=0.2,
        sun_y=-0.2,
        light=1.05,
        haze=0.6,
        warmth=colour("ffffff"),
    ),
    "evening": Hour(
        zenith=colour("6f7fa3"),
        horizon=colour("f6c37f"),
        cloud=colour("f1a06a"),
        sun=colour("fff0b8"),
        sun_x=0.76,
        sun_y=0.43,
        light=0.82,
        haze=0.72,
        warmth=colour("ffd3a0"),
        windows=0.15,
    ),
    "dusk": Hour(
        zenith=colour("2d3a66"),
        horizon=colour("d98f86"),
        cloud=colour("8a5f78"),
        sun=colour("f7b79a"),
        sun_x=0.8,
        sun_y=0.56,
        light=0.5,
        haze=0.66,
        warmth=colour("c9b0cf"),
        stars=60,
        windows=0.4,
    ),
    "night": Hour(
        zenith=colour("0b1530"),
        horizon=colour("2c4365"),
        cloud=colour("31405f"),
        sun=colour("f4f1e0"),
        sun_x=0.22,
        sun_y=0.2,
        light=0.3,
        haze=0.5,
        warmth=colour("9fb2d8"),
        stars=420,
        windows=0.6,
    ),
}
"""Sun and moon stand off the middle third, where a book folds."""
