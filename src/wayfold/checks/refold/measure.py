"""Measures to hundredths of a millimetre where the parts of a page lie.

Survey patches tell the place to about a tenth of a millimetre. Here the same small window of the
printed side and of the reading page is rendered at high resolution, the first displaced by what
is known so far, and the rest of the shift is found by least squares on grey levels (B. Lucas and
T. Kanade, 1981). Rendering again at the corrected place makes the remaining shift, and with it
the renderer's rounding to whole pixels, small.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from wayfold.base.geometry import Affine, Rect
from wayfold.checks.refold import greys
from wayfold.checks.refold.fitting import Fit, fit_motion
from wayfold.checks.refold.register import Patch, Registration
from wayfold.checks.refold.rendering import Grey, Page

FINE_PX = 24
"""Pixels a millimetre; the renderer puts letters and pictures to whole pixels."""

WINDOW = 6.0
"""Side (mm) of a measured window."""

SLACK = 0.12
"""Patches farther (mm) from the common motion than this are left out of it."""

ROUNDS = 3

ALIKE = 0.9
"""Correlation from which a window shows the same; the right page's give 0.98 and more."""


def measure_page(
    side: Page, to_side: Affine, reading: Page, to_reading: Affine, found: Registration
) -> tuple[Fit | None, tuple[Patch, ...]]:
    """Measure the patches of ``found`` again, finely; gives the motion and the patches.

    ``to_side`` and ``to_reading`` take page space (mm) to the two PDF pages.
    """
    moved = (_measure_patch(side, to_side, reading, to_reading, p) for p in found.agreed)
    patches = tuple(p for p in moved if p is not None)
    return fit_motion([(p.x, p.y, p.dx, p.dy) for p in patches], SLACK), patches


def is_confirmed(found: Registration, parts: Sequence[Patch]) -> bool:
    """Whether a look from near bears out what the survey found: at least half of it."""
    return found.plain or (bool(parts) and 2 * len(parts) >= len(found.agreed))


def _measure_patch(
    side: Page, to_side: Affine, reading: Page, to_reading: Affine, rough: Patch
) -> Patch | None:
    window = Rect(rough.x - WINDOW / 2, rough.y - WINDOW / 2, WINDOW, WINDOW)
    wanted = reading.render(window, to_reading, FINE_PX)
    dx, dy = rough.dx, rough.dy
    for turn in range(ROUNDS):
        got = side.render(window, Affine.shift(dx, dy).then(to_side), FINE_PX)
        pooled = 4 if turn == 0 else 2
        step = _solve_shift(greys.pool(wanted, pooled), greys.pool(got, pooled))
        if step is None:
            return None
        dx += step[0] * pooled / FINE_PX
        dy += step[1] * pooled / FINE_PX
        if max(abs(step[0]), abs(step[1])) * pooled / FINE_PX < 0.01:
            break
    if max(abs(dx - rough.dx), abs(dy - rough.dy)) > 0.6:
        return None
    got = side.render(window, Affine.shift(dx, dy).then(to_side), FINE_PX)
    alike = float(greys.correlate(greys.pool(wanted, 4), greys.pool(got, 4))[0, 0])
    return Patch(rough.x, rough.y, dx, dy, alike) if alike >= ALIKE else None


def _solve_shift(wanted: Grey, got: Grey) -> tuple[float, float] | None:
    """The shift (pixels, right and down) of ``got`` against ``wanted``; None where undetermined."""
    wanted, got = greys.blur(wanted, 2), greys.blur(got, 2)
    total_x = total_y = 0.0
    moved = got
    rows, columns = np.indices(got.shape, dtype=np.float32)
    inner = np.s_[3:-3, 3:-3]
    for _ in range(5):
        down, across = np.gradient(moved)
        gx, gy, diff = (np.asarray(v)[inner].ravel() for v in (across, down, wanted - moved))
        keep = np.isfinite(gx) & np.isfinite(gy) & np.isfinite(diff)
        gx, gy, diff = gx[keep], gy[keep], diff[keep]
        normal = np.array([[gx @ gx, gx @ gy], [gx @ gy, gy @ gy]], dtype=np.float64)
        if np.linalg.eigvalsh(normal)[0] < 1.0:
            return None
        # wanted(x) = moved(x + s) to first order: s = (G'G)^-1 G' (wanted - moved)
        sx, sy = np.linalg.solve(normal, np.array([gx @ diff, gy @ diff], dtype=np.float64))
        total_x, total_y = total_x + float(sx), total_y + float(sy)
        if max(abs(total_x), abs(total_y)) > 12:
            return None
        if max(abs(sx), abs(sy)) < 0.01:
            break
        to_row = np.asarray(rows + total_y, dtype=np.float32)
        to_column = np.asarray(columns + total_x, dtype=np.float32)
        moved = greys.warp(got, to_row, to_column)
    return total_x, total_y
