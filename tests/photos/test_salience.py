"""Where the eye goes: a lone subject, mirrors, faces."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.photos.look import Face
from wayfold.photos.salience import CELLS, measure_salience


def ground(rows: int = 120, columns: int = 180, seed: int = 1) -> np.ndarray:
    grain = np.random.default_rng(seed).normal(0, 3, (rows, columns, 1))
    return (np.array([90.0, 140.0, 200.0]) + grain).clip(0, 255).astype(np.uint8)


@pytest.mark.parametrize("x", [20, 80, 150])
@pytest.mark.parametrize("y", [15, 50, 95])
@pytest.mark.parametrize("colour", [(240, 240, 230), (20, 20, 20), (200, 90, 90)])
def test_a_lone_subject_draws_the_eye(x, y, colour):
    picture = ground()
    picture[y : y + 12, x : x + 12] = colour
    salience = measure_salience(picture, ())
    about = Rect((x - 12) / 180, (y - 12) / 120, 36 / 180, 36 / 120)
    # The part is a sixteenth of the picture; it has several times its share.
    assert salience.within(about) > 0.2
    best = int(np.argmax(salience.shares))
    row, column = divmod(best, salience.columns)
    assert abs((column + 0.5) / salience.columns - (x + 6) / 180) < 0.08
    assert abs((row + 0.5) / salience.rows - (y + 6) / 120) < 0.1


def test_an_even_picture_is_looked_at_in_the_middle():
    shares = np.array(measure_salience(np.full((60, 60, 3), 90, np.uint8), ()).shares)
    field = shares.reshape(CELLS, CELLS)
    assert field[CELLS // 2, CELLS // 2] == field.max()
    assert field[0, 0] == field.min()
    assert np.allclose(field, field[::-1], atol=2e-6)
    assert np.allclose(field, field.T, atol=2e-6)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 2**32 - 1), st.sampled_from([(90, 130), (130, 90), (64, 64), (20, 400)]))
def test_a_mirrored_picture_has_mirrored_salience(seed, size):
    rng = np.random.default_rng(seed)
    picture = rng.integers(0, 256, (*size, 3), np.uint8)
    box = Rect(*rng.uniform(0.1, 0.4, 4))
    faces = [Face(box, 0.9)]
    mirrored = [Face(Rect(1 - box.right, box.y, box.width, box.height), 0.9)]
    one = measure_salience(picture, faces)
    other = measure_salience(picture[:, ::-1], mirrored)
    assert (one.columns, one.rows) == (other.columns, other.rows)
    assert sum(one.shares) == pytest.approx(1.0, abs=1e-3)
    assert max(one.columns, one.rows) == CELLS
    field = np.array(one.shares).reshape(one.rows, one.columns)
    assert np.allclose(
        np.array(other.shares).reshape(one.rows, one.columns), field[:, ::-1], atol=2e-5
    )


def test_a_face_outweighs_the_rest():
    picture = ground()
    picture[20:32, 20:32] = 255
    face = Rect(0.6, 0.4, 0.15, 0.3)
    salience = measure_salience(picture, [Face(face, 0.9)])
    without = measure_salience(picture, ())
    assert salience.within(face) > 0.4 > without.within(face)


@pytest.mark.parametrize("size", [(1, 1), (1, 300), (300, 2), (5, 5)])
def test_odd_sizes_have_a_grid(size):
    salience = measure_salience(np.random.default_rng(5).integers(0, 256, (*size, 3)), ())
    assert len(salience.shares) == salience.columns * salience.rows
    assert sum(salience.shares) == pytest.approx(1.0, abs=1e-3)


def paint_like_nature(seed: int) -> np.ndarray:
    """Amplitudes fall as 1/f, as in photographs of nature (D. Field, J. Opt. Soc. Am. A 4, 1987).

    Cut out of a larger field, so that opposite sides do not match.
    """
    size = 512
    waves = np.hypot(*np.meshgrid(np.fft.fftfreq(size), np.fft.fftfreq(size)))
    waves[0, 0] = 1.0
    noise = np.random.default_rng(seed).normal(size=(size, size))
    field = np.fft.ifft2(np.fft.fft2(noise) / waves).real
    levels = (field - field.mean()) / field.std() * 40 + 128
    return np.repeat(levels.clip(0, 255)[:240, :320, None], 3, axis=2)


def test_the_rim_of_a_picture_is_hardly_looked_at_for_being_a_rim():
    # A rim of 2 % all round is 0.078 of a picture; sides that do not match made it 0.15.
    inner = Rect(0.02, 0.02, 0.96, 0.96)
    rims = [1 - measure_salience(paint_like_nature(s), ()).within(inner) for s in range(12)]
    assert np.mean(rims) < 0.12
