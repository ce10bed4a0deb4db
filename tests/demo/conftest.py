"""Tiny generated pictures that stand in for the fetched ones; no test fetches anything."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from PIL import Image

from wayfold.demo.model import Gathered, Journey
from wayfold.demo.scenario import read_journey


def draw_stand_in(path: Path, seed: int, size: tuple[int, int] = (96, 64)) -> None:
    """Write a small picture with a different colour in each corner and some noise."""
    rng = np.random.default_rng(seed)
    width, height = size
    across = np.linspace(0, 1, width)[None, :, None]
    down = np.linspace(0, 1, height)[:, None, None]
    corners = rng.uniform(40, 215, (4, 3))
    top = corners[0] * (1 - across) + corners[1] * across
    foot = corners[2] * (1 - across) + corners[3] * across
    pixels = (top * (1 - down) + foot * down).clip(0, 255).astype(np.uint8)
    path.parent.mkdir(parents=True, exist_ok=True)
    Image.fromarray(pixels).save(path)


def gather_stand_ins(folder: Path, journey: Journey | None = None) -> Gathered:
    """Give the journey with a stand-in for every photograph."""
    journey = journey or read_journey()
    files = {}
    for number, shot in enumerate(s for c in journey.chapters for s in c.shots):
        files[shot.key] = folder / f"{shot.key}.png"
        draw_stand_in(files[shot.key], number)
    return Gathered(journey, files, (), ())


def with_clock_error(journey: Journey, body: str, seconds: int) -> Journey:
    """Give the journey with one camera's clock ahead."""
    bodies = tuple(
        replace(b, clock_error_s=seconds) if b.key == body else b for b in journey.bodies
    )
    return replace(journey, bodies=bodies)


@pytest.fixture(scope="session")
def stand_ins() -> SimpleNamespace:
    """The functions above, for tests that cannot import their neighbours."""
    return SimpleNamespace(
        draw=draw_stand_in, gather=gather_stand_ins, with_clock_error=with_clock_error
    )
