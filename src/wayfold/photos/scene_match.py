"""Whether two photographs show one scene: marks that agree on how the one lies in the other."""

from __future__ import annotations

import numpy as np

from wayfold.photos.scene_marks import SceneMarks

SAME_SCENE = 12
"""So many agreeing marks are one scene: 2,162 pairs of unlike photographs had 7 at most."""
LEAST_MARKS = 8
LEAST_LIKE = 0.75
RATIO = 0.85
"""A mark's best counterpart must be so much nearer than its next best (after Lowe 2004)."""
NEXT_PX = 8.0
OFF_PX = 12.0
SCALE_LOG = 0.5


def count_agreeing(one: SceneMarks, other: SceneMarks) -> int:
    """Give how many marks agree on one shift and scale between two pictures."""
    if min(len(one.spots), len(other.spots)) < LEAST_MARKS:
        return 0
    like = one.patches @ other.patches.T
    rows = np.arange(len(one.spots))
    best = like.argmax(1)
    value = like[rows, best]
    mutual = like.argmax(0)[best] == rows
    spots = other.spots[:, :2]
    near = np.abs(spots[best][:, None] - spots[None]).max(2) < NEXT_PX
    second = np.where(near, -1.0, like).max(1)
    good = mutual & (value > LEAST_LIKE) & (1 - value < RATIO**2 * (1 - second))
    here, there = one.spots[rows[good]], other.spots[best[good]]
    if not len(here):
        return 0
    # Every match proposes a shift and a scale; the one with the most followers counts.
    scale = there[:, 2] / here[:, 2]
    shift = there[:, :2] - scale[:, None] * here[:, :2]
    put = scale[:, None, None] * here[None, :, :2] + shift[:, None]
    off = np.abs(put - there[None, :, :2]).max(2)
    alike = np.abs(np.log(scale[:, None] / scale[None])) < SCALE_LOG
    agree = (off < OFF_PX * np.maximum(1.0, scale)[:, None]) & alike
    return int(agree.sum(1).max())
