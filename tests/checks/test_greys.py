"""Operations on grey pictures, against numpy's own slower ones and by hand."""

from __future__ import annotations

import numpy as np
import pytest

from wayfold.checks.refold import greys

RANDOM = np.random.default_rng(7)


@pytest.mark.parametrize("by", [1, 2, 3, 4, 8])
def test_blocks_are_averaged(by: int) -> None:
    grey = RANDOM.uniform(0, 255, (43, 58)).astype(np.float32)
    rows, columns = 43 // by, 58 // by
    blocks = grey[: rows * by, : columns * by].reshape(rows, by, columns, by)
    np.testing.assert_allclose(greys.pool(grey, by), blocks.mean(axis=(1, 3)), atol=1e-3)


@pytest.mark.parametrize("width", [1, 4])
def test_a_frame_repeats_the_edges(width: int) -> None:
    grey = RANDOM.uniform(0, 255, (5, 9)).astype(np.float32)
    np.testing.assert_array_equal(greys.frame(grey, width), np.pad(grey, width, mode="edge"))


def test_between_pixels_is_their_mean_by_distance() -> None:
    grey = np.array([[0, 10, 20], [30, 40, 50]], dtype=np.float32)
    rows = np.array([[0, 0.5, 1, 1, -0.1]], dtype=np.float32)
    columns = np.array([[0.25, 1, 2, 1.5, 1]], dtype=np.float32)
    np.testing.assert_array_equal(greys.warp(grey, rows, columns), [[2.5, 25, 50, 45, np.nan]])
