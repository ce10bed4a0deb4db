"""Whether two photographs show one scene: marks that agree on how the one lies in the other."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from wayfold.photos.scene_marks import Floats, SceneMarks

SAME_SCENE = 12
"""So many agreeing marks are one scene: 2,162 pairs of unlike photographs had 7 at most."""
LEAST_MARKS = 8
LEAST_LIKE = 0.75
RATIO = 0.85
"""A mark's best counterpart must be so much nearer than its next best (after Lowe 2004)."""
NEXT_PX = 8.0
OFF_PX = 12.0
SCALE_LOG = 0.5
CLOSE_LIKE = 0.88
CANDIDATES = 6


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


def find_same_scenes(
    ones: Mapping[str, SceneMarks], others: Mapping[str, SceneMarks]
) -> tuple[tuple[str, str, int], ...]:
    """Give (id, id, agreeing marks) for every picture of ``ones`` that shows a scene of ``others``.

    Only the ``CANDIDATES`` pictures that have most marks like a picture's own are looked at
    closely, and of these the best one counts.
    """
    names = [name for name in sorted(others) if len(_coarse(others[name]))]
    if not names:
        return ()
    parts = [_coarse(others[name]) for name in names]
    starts = np.cumsum([0, *(len(p) for p in parts[:-1])])
    all_parts = np.concatenate(parts)
    found = []
    for name in sorted(ones):
        mine = _coarse(ones[name])
        if not len(mine):
            continue
        likest = np.maximum.reduceat(mine @ all_parts.T, starts, axis=1)
        # A mark speaks for the pictures that have its likest counterparts, more where few have.
        likely = ((likest > CLOSE_LIKE) / (1.0 + (likest > CLOSE_LIKE).sum(1, keepdims=True))).sum(
            0
        )
        near = np.argsort(-likely, kind="stable")[:CANDIDATES]
        counts = [(count_agreeing(ones[name], others[names[i]]), names[i]) for i in near]
        count, other = max(counts, key=lambda c: (c[0], c[1]))
        if count >= SAME_SCENE:
            found.append((name, other, count))
    return tuple(found)


def _coarse(marks: SceneMarks) -> Floats:
    return marks.patches[(marks.spots[:, 2] > 1.2) & (marks.spots[:, 2] < 2.5)]
