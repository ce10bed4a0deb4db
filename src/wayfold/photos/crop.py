"""Which part of a picture to show in a frame of another shape: what matters stays in.

Windows of several sizes at several places are tried. None may cut a face or its head-room, nor
lay one where the frame says it must not lie (near the trim, in the fold), nor lose more of what
the eye goes to than ``LEAST_KEPT`` allows. Of the rest the one that keeps most is taken; the idea
of the smallest window that keeps what is salient: B. Suh et al., "Automatic thumbnail cropping and
its effectiveness", UIST 2003.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import TOLERANCE, Rect
from wayfold.photos.attention import AttentionTable, Floats
from wayfold.photos.look import Face, Look

WHOLE = Rect(0.0, 0.0, 1.0, 1.0)
LEAST_KEPT = 0.92
"""A crop keeps at least this part of what the eye goes to."""
ROUND_FACE = 0.35
"""Air round a face that belongs to it, in its height; above it lies the hair."""
HEAD_ROOM = 0.5
SCALES = 9
PLACES = 25
"""Window sizes tried, and places along a side; odd, so that the middle is among them."""
PRICE_OF_SMALLER = 0.05
PRICE_OF_EDGE = 0.4
"""What it costs that salient parts are cut through, per share of them near the cut."""
EDGE = 0.03
LOOK_ROOM = 0.05
SAME_SCORE = 1e-9
KNOWN = 4096
"""So many answers are remembered: a page laid anew asks again of frames it had before."""
APART = 0.04
"""Windows no side of which differs by so much show the same."""
_SHARES = np.linspace(0.0, 1.0, PLACES)


@dataclass(frozen=True, slots=True)
class Keep:
    """Where in a frame what matters may lie; fractions of the frame.

    Faces stay within ``inside`` and out of the upright band ``fold`` (from, to). ``fold_price``
    is what the share of the salient that falls into the band costs.
    """

    inside: Rect = WHOLE
    fold: tuple[float, float] | None = None
    fold_price: float = 1.0


KEEP_ALL = Keep()


def claim_room(face: Face, aspect: float) -> Rect:
    """Give the face with the air and head-room that belong to it, within the picture.

    ``aspect`` is the whole picture's: what is air beside a face is measured in its height too.
    """
    box, air = face.box, ROUND_FACE * face.box.height
    top = max(0.0, box.y - HEAD_ROOM * box.height)
    left = max(0.0, box.x - air / aspect)
    right, bottom = min(1.0, box.right + air / aspect), min(1.0, box.bottom + air)
    return Rect(left, top, right - left, bottom - top)


@lru_cache(maxsize=KNOWN)
def find_crop(
    look: Look | None,
    aspect: float,
    wanted: float,
    most_loss: float,
    part: Rect = WHOLE,
    keep: Keep = KEEP_ALL,
) -> Rect | None:
    """Give the best window of shape ``wanted`` within ``part`` of a picture, or None.

    ``aspect`` and ``wanted`` are width over height of the whole picture and of the frame; ``part``
    is what may be shown, in fractions of the upright picture, as the answer is. None where every
    window loses more than ``most_loss`` of the part's area, cuts a face or lays one where
    ``keep`` forbids it, or keeps less than ``LEAST_KEPT`` of the salient. A picture that was not
    looked at is cropped about its middle.
    """
    weighed = _weigh_windows(look, aspect, wanted, most_loss, part, keep, as_middle=True)
    if weighed is None:
        return None
    windows, scores = weighed
    best = int(np.argmax(scores))
    return _window(windows[best]) if np.isfinite(scores[best]) else None


def bears_crop(
    look: Look | None, aspect: float, wanted: float, most_loss: float, part: Rect = WHOLE
) -> bool:
    """Whether ``find_crop`` finds a window, without weighing which is best.

    The largest come first: where any is sound, one of them mostly is.
    """
    sizes = _size_windows(aspect, wanted, most_loss, part)
    if sizes is None or look is None:
        return sizes is not None
    width, height, scales = sizes
    table = AttentionTable(look.salience)
    for scale in scales[::-1]:
        windows = _list_windows(part, width, height, scale[None])
        if _prove_windows(look, table, aspect, windows, part, KEEP_ALL)[1].any():
            return True
    return False


@lru_cache(maxsize=KNOWN)
def list_crops(
    look: Look | None,
    aspect: float,
    wanted: float,
    most_loss: float,
    part: Rect = WHOLE,
    keep: Keep = KEEP_ALL,
) -> tuple[Rect, ...]:
    """Give windows as sound as ``find_crop``'s, the best first, each well off those before it.

    They need not keep as much as the plain middle: for where another reason speaks against that.
    """
    weighed = _weigh_windows(look, aspect, wanted, most_loss, part, keep)
    if weighed is None:
        return ()
    windows, scores = weighed
    chosen: list[Floats] = []
    for index in np.argsort(-scores, kind="stable"):
        window = windows[index]
        if not np.isfinite(scores[index]):
            break
        if all(np.abs(window - other).max() >= APART for other in chosen):
            chosen.append(window)
    return tuple(_window(window) for window in chosen)


def _weigh_windows(
    look: Look | None,
    aspect: float,
    wanted: float,
    most_loss: float,
    part: Rect,
    keep: Keep,
    *,
    as_middle: bool = False,
) -> tuple[Floats, Floats] | None:
    """Give windows, and the score of each: minus infinity where it is unsound.

    With ``as_middle`` one that keeps less than the plain middle would is unsound too, where that
    is sound itself. None where even the largest loses too much.
    """
    sizes = _size_windows(aspect, wanted, most_loss, part)
    if sizes is None:
        return None
    width, height, scales = sizes
    windows = _list_windows(part, width, height, scales)
    middle = _find_middle(windows, part)
    # Equal windows: the one nearest to the middle.
    off = 1e-6 * np.abs(windows - windows[middle]).sum(axis=1)
    smaller = PRICE_OF_SMALLER * (1.0 - (windows[:, 2] - windows[:, 0]) / width)
    if look is None:
        return windows, -smaller - off
    table = AttentionTable(look.salience)
    kept, sound = _prove_windows(look, table, aspect, windows, part, keep)
    if as_middle and sound[middle]:
        # No finer reason is worth more than what the plain middle would have kept.
        sound &= kept >= kept[middle] - SAME_SCORE
    # Most windows are cast out, and only the others want weighing.
    left = np.flatnonzero(sound)
    scores = (kept - smaller)[left]
    scores -= PRICE_OF_EDGE * _share_at_cuts(table, windows[left], part)
    scores -= keep.fold_price * _share_in_fold(table, windows[left], keep)
    scores += LOOK_ROOM * _find_look_room(windows[left], look.faces)
    weighed = np.full(len(windows), -np.inf)
    weighed[left] = scores - off[left]
    return windows, weighed


def _size_windows(
    aspect: float, wanted: float, most_loss: float, part: Rect
) -> tuple[float, float, Floats] | None:
    """Give the largest window's sides, and the parts of it that are tried, rising to 1.

    None where even that one loses too much.
    """
    shape = wanted / aspect
    width = min(part.width, part.height * shape)
    height = width / shape
    full = width * height / part.area
    if 1.0 - full > most_loss + SAME_SCORE:
        return None
    smallest = min(1.0, ((1.0 - most_loss) / full) ** 0.5)
    scales = np.array(sorted({1.0, *np.linspace(smallest, 1.0, SCALES).tolist()}))
    return width, height, scales


def _prove_windows(
    look: Look, table: AttentionTable, aspect: float, windows: Floats, part: Rect, keep: Keep
) -> tuple[Floats, npt.NDArray[np.bool_]]:
    """Give the share of the salient that each window keeps, and whether it is sound."""
    kept = table.within(windows) / max(table.within(np.array([_corners(part)]))[0], 1e-12)
    rooms = [claim_room(face, aspect) for face in look.faces]
    return kept, _keep_faces(windows, rooms, part, keep) & (kept >= LEAST_KEPT)


def _list_windows(part: Rect, width: float, height: float, scales: Floats) -> Floats:
    """Give windows (shape (n, 4): left, top, right, bottom), the largest in the middle among them.

    Windows that fit the part on one side are moved along the other.
    """
    listed = []
    for scale in scales:
        across, down = width * scale, height * scale
        lefts = _spread(part.x, part.width - across)
        tops = _spread(part.y, part.height - down)
        windows = np.empty((len(tops), len(lefts), 4))
        windows[..., 0], windows[..., 1] = lefts, tops[:, None]
        windows[..., 2], windows[..., 3] = lefts + across, (tops + down)[:, None]
        listed.append(windows.reshape(-1, 4))
    return np.concatenate(listed)


def _spread(start: float, slack: float) -> Floats:
    if slack <= TOLERANCE:
        return np.array([start + slack / 2])
    return start + slack * _SHARES


def _find_middle(windows: Floats, part: Rect) -> int:
    """Give the index of the largest window about the middle of the part."""
    across = (windows[:, 0] + windows[:, 2]) / 2 - part.center.x
    down = (windows[:, 1] + windows[:, 3]) / 2 - part.center.y
    size = (windows[:, 2] - windows[:, 0]).round(9)
    largest = np.flatnonzero(size == size.max())
    return int(largest[np.argmin(np.hypot(across[largest], down[largest]).round(9))])


def _keep_faces(
    windows: Floats, rooms: Sequence[Rect], part: Rect, keep: Keep
) -> npt.NDArray[np.bool_]:
    """Tell which windows lay every face's room where it may lie."""
    left, top = windows[:, 0], windows[:, 1]
    across, down = windows[:, 2] - left, windows[:, 3] - top
    sound = np.ones(len(windows), dtype=bool)
    for claimed in rooms:
        room = claimed.overlap(part)
        if room is None:
            continue
        inside = keep.inside
        sound &= room.x >= left + inside.x * across - TOLERANCE
        sound &= room.right <= left + inside.right * across + TOLERANCE
        sound &= room.y >= top + inside.y * down - TOLERANCE
        sound &= room.bottom <= top + inside.bottom * down + TOLERANCE
        if keep.fold:
            low, high = keep.fold
            before = room.right <= left + low * across + TOLERANCE
            sound &= before | (room.x >= left + high * across - TOLERANCE)
    return sound


def _share_at_cuts(table: AttentionTable, windows: Floats, part: Rect) -> Floats:
    """Give the share of the salient that lies along edges that are really cut."""
    share = np.zeros(len(windows))
    limits = _corners(part)
    for side in range(4):
        strips = np.array(windows)
        inward = EDGE if side < 2 else -EDGE
        strips[:, (side + 2) % 4] = windows[:, side] + inward
        low, high = (side, (side + 2) % 4) if side < 2 else ((side + 2) % 4, side)
        strips[:, [low, high]] = np.sort(strips[:, [low, high]], axis=1)
        cut = np.abs(windows[:, side] - limits[side]) > TOLERANCE
        share += np.where(cut, table.within(strips), 0.0)
    return share


def _share_in_fold(table: AttentionTable, windows: Floats, keep: Keep) -> Floats:
    if keep.fold is None:
        return np.zeros(len(windows))
    low, high = keep.fold
    across = windows[:, 2] - windows[:, 0]
    band = np.array(windows)
    band[:, 0] = windows[:, 0] + low * across
    band[:, 2] = windows[:, 0] + high * across
    return table.within(band)


def _find_look_room(windows: Floats, faces: Sequence[Face]) -> Floats:
    """Give how much more room lies before turned faces than behind them (-1 to 1)."""
    room = np.zeros(len(windows))
    weight = sum(abs(face.facing) for face in faces)
    if not weight:
        return room
    across = windows[:, 2] - windows[:, 0]
    for face in faces:
        off = (face.box.center.x - (windows[:, 0] + windows[:, 2]) / 2) / across
        room -= face.facing * off
    return room / weight


def _corners(part: Rect) -> tuple[float, float, float, float]:
    return part.x, part.y, part.right, part.bottom


def _window(corners: Floats) -> Rect:
    left, top, right, bottom = (float(c) for c in corners)
    return Rect(left, top, right - left, bottom - top)
