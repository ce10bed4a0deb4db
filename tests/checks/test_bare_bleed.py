"""Ink that stops at the knife's line, told from a drawing's own white lines that run off the page.

Pages are painted here as grey levels: 255 is bare paper.
"""

from __future__ import annotations

import numpy as np
import pytest

from wayfold.checks.refold.content import find_bare_bleed
from wayfold.checks.refold.register import SURVEY_PX
from wayfold.checks.refold.rendering import Grey

MARGIN = 4.0
ROOM = (10.0, 10.0, 10.0, 10.0)


def paint_page(ink: float = 220.0, bleed: float = 3.0) -> Grey:
    """A tinted page of 60 x 80 mm with its bleed, in a rim of paper."""
    page = np.full((88 * SURVEY_PX, 68 * SURVEY_PX), 255.0, dtype=np.float32)
    edge = round((MARGIN - bleed) * SURVEY_PX)
    page[edge : page.shape[0] - edge, edge : page.shape[1] - edge] = ink
    return page


def test_a_page_with_its_bleed_has_no_fault() -> None:
    assert find_bare_bleed(paint_page(), MARGIN, 3.0, ROOM, True) == ()


@pytest.mark.parametrize("bleed", [0.0, 1.0])
def test_ink_that_ends_at_or_near_the_knife_is_found(bleed: float) -> None:
    (fault,) = find_bare_bleed(paint_page(bleed=bleed), MARGIN, 3.0, ROOM, True)
    assert set(fault.edges) == {"head", "fore edge", "foot"}


def test_white_streets_of_a_map_are_no_fault_at_any_angle() -> None:
    page = paint_page()
    rows, columns = np.indices(page.shape)
    for slope in (0.6, 1.0, 2.0, -0.8):
        for start in range(0, 120, 12):
            street = np.abs(rows - slope * (columns - start * SURVEY_PX)) < 0.6 * SURVEY_PX
            page[street] = 255.0
    assert find_bare_bleed(page, MARGIN, 3.0, ROOM, True) == ()
