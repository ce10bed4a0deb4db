"""Plain operations on pictures of grey levels."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from wayfold.checks.refold.rendering import Grey


def pool(grey: Grey, by: int) -> Grey:
    """Average blocks of ``by`` x ``by`` pixels; rows and columns left over are dropped."""
    rows, columns = grey.shape[0] // by * by, grey.shape[1] // by * by
    # Whole rows are added, then whole columns: ten times as fast as a mean of blocks.
    down = grey[0:rows:by, :columns].astype(np.float32)
    for row in range(1, by):
        down += grey[row:rows:by, :columns]
    total = down[:, 0::by].copy()
    for column in range(1, by):
        total += down[:, column::by]
    return total / np.float32(by * by)


def frame(grey: Grey, width: int) -> Grey:
    """Lay ``width`` pixels round the picture, each as the nearest one of the picture."""
    rows, columns = grey.shape
    wide = np.empty((rows + 2 * width, columns + 2 * width), dtype=grey.dtype)
    wide[width:-width, width:-width] = grey
    wide[width:-width, :width] = grey[:, :1]
    wide[width:-width, -width:] = grey[:, -1:]
    wide[:width] = wide[width]
    wide[-width:] = wide[-width - 1]
    return wide


def blur(grey: Grey, passes: int = 1) -> Grey:
    """Smooth with the kernel 1 2 1 in both directions, ``passes`` times."""
    for _ in range(passes):
        wide = frame(grey, 1)
        across = (wide[:, :-2] + 2 * wide[:, 1:-1] + wide[:, 2:]) * np.float32(0.25)
        grey = (across[:-2] + 2 * across[1:-1] + across[2:]) * np.float32(0.25)
    return grey


def box_mean(grey: Grey, radius: int) -> Grey:
    """The mean of the square of 2 * ``radius`` + 1 pixels round each pixel."""
    side = 2 * radius + 1
    sums = window_sums(frame(grey, radius), (side, side))
    return (sums / (side * side)).astype(np.float32)


def window_sums(grey: npt.NDArray[np.floating], shape: tuple[int, int]) -> npt.NDArray[np.float64]:
    """The sum of every window of ``shape`` that fits; the first is the one at the top left."""
    total = np.zeros((grey.shape[0] + 1, grey.shape[1] + 1))
    np.cumsum(grey, axis=0, out=total[1:, 1:], dtype=np.float64)
    np.cumsum(total[1:, 1:], axis=1, out=total[1:, 1:])
    h, w = shape
    result: npt.NDArray[np.float64] = (
        total[h:, w:] - total[:-h, w:] - total[h:, :-w] + total[:-h, :-w]
    )
    return result


def high_pass(grey: Grey, radius: int) -> Grey:
    """What is left after the mean of the surroundings is taken away: edges, letters, grain."""
    return grey - box_mean(grey, radius)


def lowest_near(grey: Grey) -> Grey:
    """The darkest of the 3 x 3 pixels round each pixel."""
    wide = frame(grey, 1)
    across = np.minimum(np.minimum(wide[:, :-2], wide[:, 1:-1]), wide[:, 2:])
    return np.minimum(np.minimum(across[:-2], across[1:-1]), across[2:])


def highest_near(grey: Grey) -> Grey:
    """The lightest of the 3 x 3 pixels round each pixel."""
    wide = frame(grey, 1)
    across = np.maximum(np.maximum(wide[:, :-2], wide[:, 1:-1]), wide[:, 2:])
    return np.maximum(np.maximum(across[:-2], across[1:-1]), across[2:])


def correlate(template: Grey, window: Grey) -> Grey:
    """How alike ``template`` is to every part of ``window`` (-1 to 1, normalised correlation).

    Row r, column c is the part of the window that begins there.
    """
    rows = 1 << (window.shape[0] - 1).bit_length()
    columns = 1 << (window.shape[1] - 1).bit_length()
    centred = template - template.mean()
    spectrum = np.fft.rfft2(window - window.mean(), (rows, columns))
    spectrum *= np.conj(np.fft.rfft2(centred, (rows, columns)))
    steps = window.shape[0] - template.shape[0] + 1, window.shape[1] - template.shape[1] + 1
    product = np.fft.irfft2(spectrum, (rows, columns))[: steps[0], : steps[1]]
    count = template.size
    flat = window.astype(np.float64)
    mean = window_sums(flat, (template.shape[0], template.shape[1])) / count
    square = window_sums(flat * flat, (template.shape[0], template.shape[1]))
    energy = np.maximum(square - count * mean * mean, 1e-3)
    # A window of next to no contrast would divide rounding errors by rounding errors.
    own = float(np.square(centred, dtype=np.float64).sum())
    weight = np.sqrt(np.maximum(energy, 0.01 * own) * max(own, 1e-3))
    return (product / weight).astype(np.float32)


def find_peak(surface: Grey) -> tuple[float, float, float]:
    """The highest place of ``surface`` to a fraction of a pixel: row, column, height.

    The fraction comes from a parabola through the peak and its neighbours.
    """
    row, column = (int(v) for v in np.unravel_index(int(surface.argmax()), surface.shape))
    return (
        row + _vertex(surface[:, column], row),
        column + _vertex(surface[row, :], column),
        float(surface[row, column]),
    )


def _vertex(line: Grey, at: int) -> float:
    if not 0 < at < len(line) - 1:
        return 0.0
    before, here, after = (float(v) for v in line[at - 1 : at + 2])
    bend = before - 2 * here + after
    return 0.0 if bend >= -1e-9 else max(-0.5, min(0.5, (before - after) / (2 * bend)))


def warp(grey: Grey, to_row: Grey, to_column: Grey) -> Grey:
    """Read ``grey`` at fractional places (bilinear); outside it is NaN."""
    rows, columns = grey.shape
    inside = (to_row >= 0) & (to_row <= rows - 1) & (to_column >= 0) & (to_column <= columns - 1)
    top = np.clip(to_row.astype(np.int32), 0, rows - 2)
    left = np.clip(to_column.astype(np.int32), 0, columns - 2)
    down, across = to_row - top, to_column - left
    flat, at = grey.ravel(), top * columns + left
    upper = flat[at] * (1 - across) + flat[at + 1] * across
    lower = flat[at + columns] * (1 - across) + flat[at + columns + 1] * across
    return np.where(inside, upper * (1 - down) + lower * down, np.nan).astype(np.float32)
