"""Reads one sheet: cuts its pages out of the printed sides and compares them. Runs in workers."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.checks.refold import content
from wayfold.checks.refold.fitting import Fit
from wayfold.checks.refold.measure import is_confirmed, measure_page
from wayfold.checks.refold.paper import Face
from wayfold.checks.refold.register import SURVEY_PX, Patch, Registration, register_page
from wayfold.checks.refold.rendering import Grey, Page, Pages, place_trim
from wayfold.checks.refold.views import Match, Sight, View

WRONG_SHARE = 0.08
"""A page with more of its paper wrong than this is another page."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One page to read: ``number`` in reading order, the PDF side it is on (None: not there)."""

    number: int
    face: Face
    side: int | None


@dataclass(frozen=True, slots=True)
class Desk:
    """What all readings share: the files, the trim, and where surveys are kept for later."""

    sheets: Path
    reading: Path
    trim: Size
    bleed: float
    sheet: Size
    scratch: Path


def survey_file(desk: Desk, kind: str, number: int) -> Path:
    """Where the survey of a read page ("read") or of a page of the book ("page") is kept."""
    return desk.scratch / f"{kind}-{number}.npy"


def _keep_survey(desk: Desk, kind: str, number: int, grey: Grey) -> None:
    # Saved through memory: writing straight to the disk, numpy does not say why it could not.
    data = io.BytesIO()
    np.save(data, grey.astype(np.uint8))
    survey_file(desk, kind, number).write_bytes(data.getvalue())


def load_survey(desk: Desk, kind: str, number: int) -> Grey:
    """Give a kept survey."""
    grey: Grey = np.load(survey_file(desk, kind, number)).astype(np.float32)
    return grey


def examine_sheet(desk: Desk, readings: Sequence[Reading]) -> tuple[View, ...]:
    """Compare the pages of one sheet with the same pages of the book, and keep their surveys."""
    sheets, book = open_pages(desk.sheets), open_pages(desk.reading)
    views = []
    with ExitStack() as open_sides:
        sides: dict[int, Page] = {}
        for reading in readings:
            if reading.side is not None and reading.side not in sides:
                sides[reading.side] = open_sides.enter_context(sheets.page(reading.side))
        for reading in readings:
            side = None if reading.side is None else sides[reading.side]
            views.append(_examine_page(desk, reading, side, book))
    return tuple(views)


def keep_survey(desk: Desk, number: int) -> None:
    """Survey a page of the book that no sheet was expected to show."""
    with open_pages(desk.reading).page(number - 1) as page:
        _survey_page(desk, number, page)


_open: dict[Path, Pages] = {}


def open_pages(path: Path) -> Pages:
    """Open a file once in each worker."""
    if path not in _open:
        _open[path] = Pages(path)
    return _open[path]


def close_pages() -> None:
    """Let go of every file that this process opened."""
    while _open:
        _open.popitem()[1].close()


def _survey_page(desk: Desk, number: int, page: Page) -> Grey:
    window = Rect(0, 0, desk.trim.width, desk.trim.height)
    grey = page.render(window, place_trim(page), SURVEY_PX)
    _keep_survey(desk, "page", number, grey)
    return grey


def _examine_page(desk: Desk, reading: Reading, side: Page | None, book: Pages) -> View:
    number, face = reading.number, reading.face
    if number > book.count:
        expected = None
        if side is None:
            return View(number, Sight.ABSENT)
        read, _ = _survey_side(desk, face, side)
        _keep_survey(desk, "read", number, read)
        blank = content.is_blank(read, face.compared)
        return View(number, Sight.BLANK if blank else Sight.UNKNOWN)
    with book.page(number - 1) as page:
        expected = _survey_page(desk, number, page)
        if side is None:
            return View(number, Sight.ABSENT)
        read, around = _survey_side(desk, face, side)
        _keep_survey(desk, "read", number, read)
        view, found = compare_page(number, read, expected, face.compared, face.recto)
        if view.sight is not Sight.RIGHT:
            return view
        fit, parts = measure_page(side, face.to_side, page, place_trim(page), found)
        if not is_confirmed(found, parts):
            return View(number, Sight.UNKNOWN)
    bare = _find_bleed_faults(desk, face, around, fit or found.fit)
    offset = measure_offset(fit, parts)
    faults = view.faults + bare
    return View(number, Sight.RIGHT, view.matches, fit, offset, len(parts), faults)


def compare_page(
    number: int, read: Grey, expected: Grey, visible: Rect, recto: bool
) -> tuple[View, Registration]:
    """Whether a read page is page ``number``, by survey alone."""
    bare = content.is_blank(read, visible), content.is_blank(expected, visible)
    match = (Match(number),)
    if all(bare):
        return View(number, Sight.RIGHT, (Match(number, None, None),)), Registration(())
    if bare[0]:
        return View(number, Sight.BLANK), Registration(())
    found = register_page(read, expected, visible)
    if not found.plain and found.fit is None:
        return View(number, Sight.UNKNOWN), found
    faults = content.compare_content(read, expected, visible, found.fit, recto)
    view = View(number, Sight.RIGHT, match, found.fit, None, 0, faults)
    if view.foreign_or_lost > WRONG_SHARE * visible.area:
        return View(number, Sight.UNKNOWN), found
    return view, found


def measure_offset(fit: Fit | None, parts: Sequence[Patch]) -> float | None:
    """The largest displacement (mm) among the parts that move together, or of all if none do."""
    if fit is None:
        return None
    if not fit.used:
        return max(math.hypot(p.dx, p.dy) for p in parts)
    return max(math.hypot(*fit.at(parts[i].x, parts[i].y)) for i in fit.used)


def _survey_side(desk: Desk, face: Face, side: Page) -> tuple[Grey, Grey]:
    """The page as cut, and the same with the bleed round it."""
    margin = _margin(desk)
    window = Rect(0, 0, desk.trim.width, desk.trim.height).grown(margin)
    around = side.render(window, face.to_side, SURVEY_PX)
    cut = round(margin * SURVEY_PX)
    rows, columns = (round(v * SURVEY_PX) for v in (desk.trim.height, desk.trim.width))
    read = around[cut : cut + rows, cut : cut + columns].copy()
    left, right = (round(v * SURVEY_PX) for v in (face.visible.x, face.visible.right))
    top, bottom = (round(v * SURVEY_PX) for v in (face.visible.y, face.visible.bottom))
    read[:, :left], read[:, right:], read[:top], read[bottom:] = 255, 255, 255, 255
    return read, around


def _margin(desk: Desk) -> float:
    """The bleed, in whole survey pixels, so that the cut page keeps its grid."""
    return math.ceil(desk.bleed * SURVEY_PX) / SURVEY_PX if desk.bleed else 0.0


def _find_bleed_faults(
    desk: Desk, face: Face, around: Grey, fit: Fit | None
) -> tuple[content.ContentFault, ...]:
    moved = fit is not None and math.hypot(fit.shift_x, fit.shift_y) > 0.3
    if desk.bleed <= 0 or moved:
        return ()
    page = Rect(0, 0, desk.trim.width, desk.trim.height)
    paper = _paper_round(face.to_side, desk.sheet)
    room = (
        page.y - paper.y,
        paper.right - page.right,
        paper.bottom - page.bottom,
        page.x - paper.x,
    )
    return content.find_bare_bleed(around, _margin(desk), desk.bleed, room, face.recto)


def _paper_round(to_side: Affine, sheet: Size) -> Rect:
    return to_side.inverse().apply_rect(Rect(0, 0, sheet.width, sheet.height))
