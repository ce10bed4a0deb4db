"""Which page of the book is this, and which way up? For pages that are not what they should be."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.checks.refold import content, greys
from wayfold.checks.refold.examine import Desk, Reading, compare_page, load_survey, open_pages
from wayfold.checks.refold.measure import is_confirmed, measure_page
from wayfold.checks.refold.register import SURVEY_PX, Registration
from wayfold.checks.refold.rendering import Grey, place_trim
from wayfold.checks.refold.views import Match, Sight, View

POOL = 6
"""Survey pixels to one pixel of the sketch by which candidates are ranked."""

CANDIDATES = 5
"""So many of the likeliest pages are looked at closely."""

HOPELESS = 0.15
"""Sketches less alike than this are of different pages."""

SAME_AREA = 0.4
"""Pages whose wrong paper differs by less (mm2) fit equally well; a folio's figure is more."""

ACROSS = (90, 270)
TURNS = (0, 180, *ACROSS)


@dataclass(frozen=True, slots=True)
class Index:
    """Sketches of every page of the book, ready to be compared: spectra by page, and blanks."""

    pages: tuple[int, ...]
    spectra: npt.NDArray[np.complex64]
    blanks: tuple[int, ...]
    shape: tuple[int, int]


def build_index(desk: Desk, pages: Sequence[int]) -> Index:
    """Sketch the kept surveys of ``pages``."""
    whole = Rect(0, 0, desk.trim.width, desk.trim.height)
    longest = max(desk.trim.width, desk.trim.height) * SURVEY_PX / POOL
    side = 1 << int(longest * 1.2).bit_length()
    kept, blanks, spectra = [], [], []
    for number in pages:
        survey = load_survey(desk, "page", number)
        if content.is_blank(survey, whole):
            blanks.append(number)
            continue
        kept.append(number)
        spectra.append(np.conj(_sketch(survey, (side, side))))
    stack = np.stack(spectra) if spectra else np.zeros((0, side, side // 2 + 1), np.complex64)
    return Index(tuple(kept), stack.astype(np.complex64), tuple(blanks), (side, side))


def identify(desk: Desk, index: Index, reading: Reading, view: View) -> View:
    """Give ``view`` with the pages it could be; unchanged where no page of the book fits."""
    if view.sight is Sight.ABSENT or reading.side is None:
        return view
    face = reading.face
    read = load_survey(desk, "read", view.number)
    if content.is_blank(read, face.compared):
        matches = tuple(Match(n, None, None) for n in index.blanks)
        return replace(view, sight=Sight.BLANK, matches=matches)
    fitting: list[tuple[float, Match]] = []
    if view.sight is Sight.RIGHT:
        fitting += [(view.foreign_or_lost, m) for m in view.matches]
    for match in _rank(index, read):
        stood = _stand_up(read, match, desk.trim)
        visible = _turn_visible(face.compared, match, desk.trim)
        expected = load_survey(desk, "page", match.page)
        seen, found = compare_page(match.page, stood, expected, visible, face.recto)
        if seen.sight is not Sight.RIGHT or match in (m for _, m in fitting):
            continue
        # Of a page lying across only the middle is compared: nothing there proves nothing.
        if match.turn_deg in ACROSS and not found.agreed:
            continue
        if _look_from_near(desk, reading, reading.side, match, found):
            fitting.append((seen.foreign_or_lost, match))
    if not fitting:
        return view
    least = min(area for area, _ in fitting)
    best = tuple(m for area, m in fitting if area <= 1.3 * least + SAME_AREA)
    if view.sight is Sight.RIGHT and view.matches[0] in best:
        return view
    return replace(view, sight=Sight.OTHER, matches=best, fit=None, offset=None, parts=0, faults=())


def identify_all(
    desk: Desk, index: Index, readings: Mapping[int, Reading], views: Sequence[View]
) -> tuple[View, ...]:
    """``identify`` for several views."""
    return tuple(identify(desk, index, readings[v.number], v) for v in views)


def _look_from_near(
    desk: Desk, reading: Reading, side: int, match: Match, found: Registration
) -> bool:
    stance = _stance(match, desk.trim).then(reading.face.to_side)
    with (
        open_pages(desk.sheets).page(side) as printed,
        open_pages(desk.reading).page(match.page - 1) as page,
    ):
        _, parts = measure_page(printed, stance, page, place_trim(page), found)
    return is_confirmed(found, parts)


def _stance(match: Match, trim: Size) -> Affine:
    """Where the points of an upright page lie once it is mirrored and turned about its middle."""
    mirror = Affine.scale(-1.0, 1.0) if match.mirrored else Affine()
    turn = Affine.turn(match.turn_deg or 0)
    x, y = trim.width / 2, trim.height / 2
    return Affine.shift(-x, -y).then(mirror).then(turn).then(Affine.shift(x, y))


def _rank(index: Index, read: Grey) -> list[Match]:
    """The likeliest pages and ways up, best first."""
    if not index.pages:
        return []
    scores: list[tuple[float, Match]] = []
    for mirrored in (False, True):
        for turn in TURNS:
            stood = np.rot90(read, turn // 90)
            stood = np.fliplr(stood) if mirrored else stood
            product = index.spectra * _sketch(stood, index.shape)
            peaks = np.fft.irfft2(product, index.shape, axes=(1, 2)).max(axis=(1, 2))
            scores += [
                (float(peak), Match(page, turn, mirrored))
                for page, peak in zip(index.pages, peaks, strict=True)
            ]
    scores.sort(key=lambda pair: -pair[0])
    return [match for score, match in scores[:CANDIDATES] if score >= HOPELESS]


def _sketch(survey: Grey, shape: tuple[int, int]) -> npt.NDArray[np.complex64]:
    """The spectrum of a page's rough forms, of unit energy."""
    rough = greys.high_pass(greys.pool(greys.blur(survey, 2), POOL), 5)
    energy = float(np.sqrt(np.square(rough, dtype=np.float64).sum()))
    spectrum = np.fft.rfft2(rough / max(energy, 1.0), shape)
    return spectrum.astype(np.complex64)


def _stand_up(read: Grey, match: Match, trim: Size) -> Grey:
    """Undo the turn and the mirroring; a page lying across is cut or filled up with white."""
    stood = np.rot90(read, (match.turn_deg or 0) // 90)
    stood = np.fliplr(stood) if match.mirrored else stood
    rows, columns = round(trim.height * SURVEY_PX), round(trim.width * SURVEY_PX)
    if stood.shape == (rows, columns):
        return np.ascontiguousarray(stood)
    out: Grey = np.full((rows, columns), 255, np.float32)
    h, w = min(rows, stood.shape[0]), min(columns, stood.shape[1])
    to_r, to_c = (rows - h) // 2, (columns - w) // 2
    from_r, from_c = (stood.shape[0] - h) // 2, (stood.shape[1] - w) // 2
    out[to_r : to_r + h, to_c : to_c + w] = stood[from_r : from_r + h, from_c : from_c + w]
    return out


def _turn_visible(visible: Rect, match: Match, trim: Size) -> Rect:
    """The seen part of the page once stood up; for a page lying across, what both ways share."""
    if match.turn_deg in ACROSS:
        side = min(trim.width, trim.height) - 2
        return Rect((trim.width - side) / 2, (trim.height - side) / 2, side, side)
    other_way_round = (match.turn_deg == 180) != bool(match.mirrored)
    x = trim.width - visible.right if other_way_round else visible.x
    return Rect(x, visible.y, visible.width, visible.height)
