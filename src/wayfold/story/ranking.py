"""Which of several pictures nearly alike is best, and by what it is better.

Pictures are told apart by one ground after another: all that fall clearly behind the best by it go,
and the next ground decides among the rest. Only within a set are such numbers worth anything: of
two pictures of different things the sharper is not the better one (Chang, Yu, Wang, Ashley and
Finkelstein, "Automatic triage for a photo series", ACM Transactions on Graphics 35(4), 2016).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from wayfold.photos.kinds import Kind
from wayfold.photos.largest import count_sharp
from wayfold.photos.model import Photo
from wayfold.story.entries import Entry

Shown = tuple[Entry, Photo]


@dataclass(frozen=True, slots=True)
class Ground:
    """A reason to prefer a picture.

    ``measure`` gives more for better ones, or None where nothing is known; then nobody is judged by
    it. ``behind`` says whether the second is clearly behind the first. ``ahead`` is put before
    "of 3 nearly alike", ``lags`` after "nearly the same as another".
    """

    measure: Callable[[Shown], float | None]
    behind: Callable[[float, float], bool]
    ahead: str
    lags: str


@dataclass(frozen=True, slots=True)
class Ranked:
    """A picture in its place: why it stands before the next, and what put it behind the first."""

    entry: Entry
    ahead: Ground | None
    lags: Ground | None


SHARPER = 1.15
"""So much finer, along a line, is seen side by side; measuring is within 8 %."""
CLEARER = 0.02
"""Of what matters, so much more lost to black or white is seen."""


def rank_alike(shown: Sequence[Shown]) -> tuple[Ranked, ...]:
    """Give pictures nearly alike, the best first; ``shown`` in the order they were taken.

    Of equals the last comes first: one stops when the picture is good (common practice, no single
    source).
    """
    left = list(shown)
    lags: dict[str, Ground] = {}
    ranked: list[Ranked] = []
    while left:
        best, decisive, fallen = _pick_best(left)
        if not ranked:
            lags = fallen
        ranked.append(Ranked(best[0], decisive, lags.get(best[0].photo)))
        left.remove(best)
    return tuple(ranked)


def _pick_best(shown: Sequence[Shown]) -> tuple[Shown, Ground | None, dict[str, Ground]]:
    """Give the best, the ground that left it alone (None: it is the last), and why others fell."""
    standing = list(shown)
    fallen: dict[str, Ground] = {}
    for ground in GROUNDS:
        values = [ground.measure(one) for one in standing]
        known = [v for v in values if v is not None]
        if len(known) < len(standing):
            continue
        most = max(known)
        ahead = [one for one, v in zip(standing, known, strict=True) if not ground.behind(most, v)]
        fallen |= {e.photo: ground for e, p in standing if (e, p) not in ahead}
        if len(ahead) < len(standing) and len(ahead) == 1:
            return ahead[0], ground, fallen
        standing = ahead
    return standing[-1], None, fallen


def _count_faces(shown: Shown) -> float | None:
    look = shown[1].look
    return None if look is None else float(len(look.faces))


def _measure_detail_in_faces(shown: Shown) -> float | None:
    return _measure_detail(shown) if _count_faces(shown) else None


def _measure_detail(shown: Shown) -> float | None:
    """Give how many pixels of a sharp picture the longer side is worth."""
    photo = shown[1]
    if photo.look is None:
        return None
    return max(photo.size.width_px, photo.size.height_px) * count_sharp(photo.look)


def _measure_kept(shown: Shown) -> float | None:
    look = shown[1].look
    return None if look is None else 1.0 - look.clipped


def _less(most: float, value: float) -> bool:
    return value < most


GROUNDS = (
    Ground(lambda s: float(s[0].rating), _less, "The best rated", "and rated lower"),
    # A raw file is shown as developed plainly, the JPEG beside it as the camera meant it.
    Ground(
        lambda s: float(Kind(s[1].file_format) is not Kind.RAW),
        _less,
        "The finished file",
        "and a raw file",
    ),
    Ground(_count_faces, _less, "The one that shows most faces", "and shows fewer faces"),
    Ground(
        _measure_detail_in_faces,
        lambda most, value: value * SHARPER < most,
        "The one that is sharper where the faces are,",
        "and less sharp where the faces are",
    ),
    Ground(
        _measure_detail,
        lambda most, value: value * SHARPER < most,
        "The one that is sharper where the eye goes,",
        "and less sharp where the eye goes",
    ),
    Ground(
        _measure_kept,
        lambda most, value: value + CLEARER < most,
        "The one that loses least to black and white,",
        "and loses more to black or white",
    ),
    Ground(
        lambda s: float(s[1].size.width_px * s[1].size.height_px),
        _less,
        "The one with most pixels",
        "and has fewer pixels",
    ),
)
