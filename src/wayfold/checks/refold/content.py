"""What a read page lacks, and what it shows that does not belong to it."""

from __future__ import annotations

import enum
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import Rect
from wayfold.checks.refold import greys
from wayfold.checks.refold.fitting import Fit
from wayfold.checks.refold.register import SURVEY_PX
from wayfold.checks.refold.rendering import Grey

NOISE = 20.0
"""Grey levels that rendering at another place may change."""

SOFTENING = 0.4
"""The share of local contrast that moving a picture by part of a pixel may take away."""

WINDOW_MM = 3
WINDOW_LEAST_PX = 8
"""A window of 3 x 3 mm with so many wrong pixels is wrong; fewer are stray."""

EDGE_BAND = 8.0
"""Within this distance (mm) of an edge a fault is said to lie at that edge."""

INK = 250.0
"""Lighter than this grey level is bare paper."""


class FaultKind(enum.StrEnum):
    """What is wrong with what the page shows."""

    LOST = "lost"
    FOREIGN = "foreign"
    BLEED = "bleed"


@dataclass(frozen=True, slots=True)
class ContentFault:
    """Some ``area`` (mm2) of a page that is wrong.

    ``edges``: "head", "foot", "fold", "fore edge"; empty where it lies within the page.
    """

    kind: FaultKind
    edges: tuple[str, ...]
    area: float


def is_blank(read: Grey, visible: Rect) -> bool:
    """Whether no ink is to be seen on the page."""
    inner = _mask(read.shape, visible.grown(-0.7))
    return int(((read < INK) & inner).sum()) < 3


def compare_content(
    read: Grey, expected: Grey, visible: Rect, fit: Fit | None, recto: bool
) -> tuple[ContentFault, ...]:
    """List what is lost and what is foreign, once the page's motion is taken out.

    A pixel is right if its grey level lies between the extremes of its neighbourhood on the other
    page. Looked at both ways, this forgives a third of a millimetre and nothing else.
    """
    moved, known = _lay_over(read, visible, fit)
    there = known & _mask(expected.shape, Rect(0, 0, *_size_mm(expected)).grown(-0.4))
    wanted, got = greys.blur(expected), greys.blur(moved)
    # Where the read page is not known, its blurred neighbours are not either.
    there &= ~_near(~known)
    reach = greys.highest_near(wanted), greys.lowest_near(wanted)
    slack = NOISE + SOFTENING * (greys.highest_near(reach[0]) - greys.lowest_near(reach[1]))
    foreign = _outside(got, wanted, slack) & there
    lost = _outside(wanted, got, slack) & there
    darker = got < wanted
    # A picture that covers another is both; ink on bare paper and bare paper for ink are not.
    faults = []
    for kind, wrong in (
        (FaultKind.FOREIGN, (foreign | lost) & darker),
        (FaultKind.LOST, (foreign | lost) & ~darker),
    ):
        fault = _describe(kind, _keep_dense(wrong), recto)
        if fault is not None:
            faults.append(fault)
    return tuple(faults)


def _lay_over(read: Grey, visible: Rect, fit: Fit | None) -> tuple[Grey, npt.NDArray[np.bool_]]:
    seen = np.where(_mask(read.shape, visible.grown(-0.2)), read, np.float32(np.nan))
    if fit is not None:
        rows, columns = np.indices(read.shape, dtype=np.float32)
        x, y = (columns + 0.5) / SURVEY_PX - fit.at_x, (rows + 0.5) / SURVEY_PX - fit.at_y
        dx = fit.shift_x + fit.xx * x + fit.xy * y
        dy = fit.shift_y + fit.yx * x + fit.yy * y
        seen = greys.warp(
            seen.astype(np.float32),
            np.asarray(rows + dy * SURVEY_PX, dtype=np.float32),
            np.asarray(columns + dx * SURVEY_PX, dtype=np.float32),
        )
    known = np.isfinite(seen)
    return np.where(known, seen, np.float32(255)).astype(np.float32), known


def _outside(one: Grey, other: Grey, slack: Grey) -> npt.NDArray[np.bool_]:
    below = one < greys.lowest_near(other) - slack
    above = one > greys.highest_near(other) + slack
    result: npt.NDArray[np.bool_] = below | above
    return result


def _keep_dense(wrong: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
    if np.count_nonzero(wrong) < WINDOW_LEAST_PX:
        return np.zeros_like(wrong)
    side = WINDOW_MM * SURVEY_PX
    wide = np.pad(wrong, side // 2).astype(np.float32)
    dense = greys.window_sums(wide, (side, side)) >= WINDOW_LEAST_PX
    kept: npt.NDArray[np.bool_] = wrong & dense
    return kept


def _describe(kind: FaultKind, wrong: npt.NDArray[np.bool_], recto: bool) -> ContentFault | None:
    total = int(wrong.sum())
    if not total:
        return None
    rows, columns = wrong.shape
    band = min(round(EDGE_BAND * SURVEY_PX), rows // 4, columns // 4)
    fold, fore = (np.s_[:, :band], np.s_[:, -band:])
    if not recto:
        fold, fore = fore, fold
    bands = {
        "head": np.s_[:band, :],
        "foot": np.s_[-band:, :],
        "fold": fold,
        "fore edge": fore,
    }
    at = tuple(name for name, part in bands.items() if wrong[part].sum() >= 0.3 * total)
    return ContentFault(kind, at, total / SURVEY_PX**2)


def find_bare_bleed(
    around: Grey, margin: float, bleed: float, room: tuple[float, float, float, float], recto: bool
) -> tuple[ContentFault, ...]:
    """Find edges where ink runs to the knife's line and not beyond it.

    ``around`` shows the page and ``margin`` mm round it; ``room`` is how much paper (mm) there
    is beyond the head, the right, the foot and the left of the page.
    """
    cut = round(margin * SURVEY_PX)
    names = ("head", "fore edge" if recto else "fold", "foot", "fold" if recto else "fore edge")
    bare = []
    area = 0.0
    for turns, (name, free) in enumerate(zip(names, room, strict=True)):
        reach = int((min(bleed, free, margin) - 0.5) * SURVEY_PX)
        if name == "fold" or reach < 1:
            continue
        # Turn the page so that the edge in question lies at the head.
        turned = np.rot90(around, turns)[:, cut:-cut]
        inside = turned[cut + 2 : cut + 4].max(axis=0)
        # White at the paper's own edge: white farther in is a line of the page's own drawing.
        naked = (inside < INK - 25) & (turned[cut - 1 - reach] >= INK)
        # A map's streets leave gaps too; a picture without bleed is bare for a good stretch.
        run = _longest_run(naked)
        if run >= 5 * SURVEY_PX:
            bare.append(name)
            area += float(naked.sum()) * reach / SURVEY_PX**2
    return (ContentFault(FaultKind.BLEED, tuple(bare), area),) if bare else ()


def _longest_run(wrong: npt.NDArray[np.bool_]) -> int:
    ends = np.flatnonzero(np.diff(np.concatenate([[False], wrong, [False]]).astype(np.int8)))
    return int((ends[1::2] - ends[::2]).max()) if len(ends) else 0


def _near(mask: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
    grown: npt.NDArray[np.bool_] = greys.highest_near(mask.astype(np.float32)) > 0
    return grown


def _mask(shape: tuple[int, ...], rect: Rect) -> npt.NDArray[np.bool_]:
    mask = np.zeros(shape, dtype=bool)
    top, left = max(0, round(rect.y * SURVEY_PX)), max(0, round(rect.x * SURVEY_PX))
    bottom, right = round(rect.bottom * SURVEY_PX), round(rect.right * SURVEY_PX)
    mask[top : max(top, bottom), left : max(left, right)] = True
    return mask


def _size_mm(grey: Grey) -> tuple[float, float]:
    return grey.shape[1] / SURVEY_PX, grey.shape[0] / SURVEY_PX
