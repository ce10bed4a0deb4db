"""Lays a page that was read over the page it should be: where do its parts lie?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import Rect
from wayfold.checks.refold import greys
from wayfold.checks.refold.fitting import Fit, fit_motion
from wayfold.checks.refold.rendering import Grey

SURVEY_PX = 3
"""Pixels a millimetre of the survey: a letter's stroke still shows."""

PATCH = 12.0
"""Side (mm) of a patch that is looked for."""

SEARCH = 4.0
"""How far (mm) from its expected place a patch is looked for."""

FARTHEST = 20.0
"""The farthest (mm) that a whole page is looked for."""

TEXTURE_GOOD = 3000.0
"""Sum of squared grey steps in 6 x 6 mm, in the weaker direction, that measures well."""

TEXTURE_LEAST = 300.0
"""The same where a page has little better: skies and fog still hold a grey level a pixel."""

SPOTS_WANTED = 4

SLOPE_MOST = 0.08
"""Pages scaled or askew by more than this are taken for other pages."""

SLACK = 0.4
"""How far (mm) a patch may lie from where the motion of its page takes it."""

SLACK_OF_FEW = 2.0
"""The same where patches are too few to tell a scale: at 99 % the ends of a page lie so far off."""

ALIKE = 0.75
"""Normalised correlation from which a patch counts as the same."""


@dataclass(frozen=True, slots=True)
class Patch:
    """A small part of a page: its middle (mm), how far it lies off (mm), how alike it is (0-1)."""

    x: float
    y: float
    dx: float
    dy: float
    alike: float


@dataclass(frozen=True, slots=True)
class Registration:
    """How a read page lies on the expected one. ``fit`` None: no match, or nothing to match by."""

    patches: tuple[Patch, ...]
    agreed: tuple[Patch, ...] = ()
    """Those that were found, and moved together."""
    fit: Fit | None = None

    @property
    def plain(self) -> bool:
        """Whether the expected page has nothing to measure by."""
        return not self.patches


def register_page(read: Grey, expected: Grey, visible: Rect) -> Registration:
    """Find the parts of ``expected`` in ``read`` (both at survey resolution, same size).

    ``visible`` is the part of the read page there is, in mm.
    """
    spots = choose_spots(expected, visible)
    if not spots:
        return Registration(())
    shift = _shift_whole(read, expected)
    patches = tuple(_seek_patch(read, expected, spot, shift) for spot in spots)
    good = [p for p in patches if p.alike >= ALIKE]
    slack = SLACK if len(good) >= 4 else SLACK_OF_FEW
    fit = fit_motion([(p.x, p.y, p.dx, p.dy) for p in good], slack)
    if fit is None or len(fit.used) < (len(patches) + 1) // 2 or not _is_likely(fit):
        return Registration(patches)
    return Registration(patches, tuple(good[i] for i in fit.used), fit)


def _is_likely(fit: Fit) -> bool:
    """Whether a printer or an imposer could move a page so; chance likeness scales wildly."""
    slopes = max(abs(v) for v in (fit.xx, fit.xy, fit.yx, fit.yy))
    return slopes <= SLOPE_MOST


def choose_spots(expected: Grey, visible: Rect, margin: float = 3.0) -> list[tuple[float, float]]:
    """Middles (mm) of places spread over the page where a shift in any direction would show.

    For each cell of a grid, the place with the strongest texture (smaller eigenvalue of the
    structure tensor, as Shi and Tomasi choose features to track, 1994).
    """
    step = 2 * SURVEY_PX
    smooth = greys.blur(expected)
    down, across = np.gradient(smooth)
    if min(expected.shape) < 4 * step:
        return []
    xx, yy, xy = (
        greys.window_sums(greys.pool(np.asarray(p, np.float32), step) * (step * step), (3, 3))
        for p in (across * across, down * down, across * down)
    )
    least = (xx + yy) / 2 - np.sqrt(np.square((xx - yy) / 2) + np.square(xy))
    # Window (r, c) covers blocks r..r+2; its middle lies 3 mm in.
    ys = np.arange(least.shape[0]) * 2.0 + 3.0
    xs = np.arange(least.shape[1]) * 2.0 + 3.0
    inner = visible.grown(-margin)
    least[(ys < inner.y) | (ys > inner.bottom), :] = 0
    least[:, (xs < inner.x) | (xs > inner.right)] = 0
    cells: list[tuple[float, tuple[float, float]]] = []
    for rows in np.array_split(np.arange(len(ys)), 4):
        for columns in np.array_split(np.arange(len(xs)), 3):
            cell = least[np.ix_(rows, columns)]
            if cell.size and cell.max() >= TEXTURE_LEAST:
                r, c = np.unravel_index(int(cell.argmax()), cell.shape)
                cells.append((float(cell.max()), (float(xs[columns[c]]), float(ys[rows[r]]))))
    good = [spot for texture, spot in cells if texture >= TEXTURE_GOOD]
    return good if len(good) >= SPOTS_WANTED or not cells else [spot for _, spot in cells]


def _shift_whole(read: Grey, expected: Grey) -> tuple[float, float]:
    """The shift (mm) at which the whole pages agree best, to about a millimetre."""
    a, b = (greys.high_pass(greys.pool(g, SURVEY_PX), 4) for g in (read, expected))
    far = round(FARTHEST)
    rows, columns = (1 << (n + far - 1).bit_length() for n in a.shape)
    spectrum = np.fft.rfft2(a, (rows, columns)) * np.conj(np.fft.rfft2(b, (rows, columns)))
    surface = np.fft.irfft2(spectrum, (rows, columns))
    near = np.roll(surface, (far, far), (0, 1))[: 2 * far + 1, : 2 * far + 1]
    r, c = np.unravel_index(int(near.argmax()), near.shape)
    return float(c) - far, float(r) - far


def _seek_patch(
    read: Grey, expected: Grey, spot: tuple[float, float], shift: tuple[float, float]
) -> Patch:
    half = round(PATCH * SURVEY_PX / 2)
    reach = round(SEARCH * SURVEY_PX)
    rows, columns = expected.shape
    col, row = (round(v * SURVEY_PX) for v in spot)
    top, bottom = max(0, row - half), min(rows, row + half)
    left, right = max(0, col - half), min(columns, col + half)
    template = expected[top:bottom, left:right]
    down, over = (round(v * SURVEY_PX) for v in (shift[1], shift[0]))
    window = _cut(
        read, top + down - reach, bottom + down + reach, left + over - reach, right + over + reach
    )
    r, c, alike = greys.find_peak(greys.correlate(greys.blur(template), greys.blur(window)))
    dx, dy = (over - reach + c) / SURVEY_PX, (down - reach + r) / SURVEY_PX
    return Patch(spot[0], spot[1], dx, dy, alike)


def _cut(grey: Grey, top: int, bottom: int, left: int, right: int) -> Grey:
    """Cut a window that may reach over the edges; there it is white."""
    rows, columns = grey.shape
    out: npt.NDArray[np.float32] = np.full((bottom - top, right - left), 255, np.float32)
    t, b, le, r = max(top, 0), min(bottom, rows), max(left, 0), min(right, columns)
    if t < b and le < r:
        out[t - top : b - top, le - left : r - left] = grey[t:b, le:r]
    return out
