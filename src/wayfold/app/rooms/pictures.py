"""What there is to know of a book's photographs, whatever is decided: one list for each fact.

Columns and not objects: of five thousand pictures every name of a field would be written five
thousand times.
"""

from __future__ import annotations

import threading
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from weakref import WeakKeyDictionary

from wayfold.app.rooms.pictures_order import number_scenes, number_sets, order_together
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.base.hashing import hash_values
from wayfold.book.state import Book
from wayfold.photos.largest import Limit, count_sharp, largest_print
from wayfold.photos.look import Look
from wayfold.photos.model import Camera, Photo
from wayfold.trip.model import Moment

CONTENT_DIGITS = 12
UNKNOWN = -1
LIMITS = tuple(Limit)


@dataclass(frozen=True, slots=True)
class DayView:
    """A day of the journey; ``date`` is None for the photographs whose day is not known."""

    date: date | None
    number: int
    places: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PictureFacts:
    """Facts in columns, an entry a photograph: by day, those nearly alike or of a scene together.

    ``days``, ``places`` and ``cameras`` are what the columns ``day``, ``place`` and ``camera``
    count in; -1 is not known. ``of`` are the first digits of the content, ``time`` the local time
    as "09:30". ``tone`` is the picture's mean colour as CSS oklab() takes it. ``eye_x`` and
    ``eye_y`` are where the eye goes first, in hundredths of the upright picture: the largest face,
    else the most salient part. ``sharp`` is the share of the pixels, along a line, that its
    sharpness is worth, in hundredths; -1 where nobody has looked. ``clipped`` are hundredths of
    what matters, lost to black or white. ``largest_mm`` is the width of the largest good print,
    ``limit`` an index into ``limits``, what keeps it from being larger. ``alike`` and ``scene``
    number the sets nearly alike and the scenes; -1 stands alone. ``page_mm`` is the book page's
    width and height.
    """

    key: str
    page_mm: tuple[float, float]
    days: tuple[DayView, ...]
    places: tuple[str, ...]
    cameras: tuple[str, ...]
    limits: tuple[str, ...]
    id: list[str]
    of: list[str]
    name: list[str]
    time: list[str]
    day: list[int]
    place: list[int]
    camera: list[int]
    width_px: list[int]
    height_px: list[int]
    tone: list[str]
    faces: list[int]
    eye_x: list[int]
    eye_y: list[int]
    sharp: list[int]
    clipped: list[int]
    largest_mm: list[int]
    limit: list[int]
    alike: list[int]
    scene: list[int]


class _Kept:
    """The facts last gathered of a book, with what they were gathered from."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.source: tuple[object, ...] | None = None
        self.facts: PictureFacts | None = None


_KEPT: WeakKeyDictionary[Session, _Kept] = WeakKeyDictionary()


def list_facts(session: Session) -> PictureFacts:
    """Give the facts of the open book's photographs; quick where nothing of them has changed."""
    results = session.results
    book = results.book
    kept = _KEPT.setdefault(session, _Kept())
    source = (results.catalogue, results.trip, book.arranging, book.paper, book.trim)
    with kept.lock:
        if kept.facts is None or kept.source != source:
            kept.facts = gather_facts(results)
        kept.source = source
        return kept.facts


def gather_facts(results: Results) -> PictureFacts:
    """Give the facts of the photographs in ``results``."""
    moments = {m.photo: m for m in results.trip.moments}
    day_of = {photo: i for i, day in enumerate(results.trip.days) for photo in day.photos}
    alike = number_sets(results.sets.alike)
    scene = number_scenes(results.sets.series, results.sets.alike)
    names = [stop.name for stop in results.trip.stops]
    places = tuple(dict.fromkeys(names))
    place_at = {name: i for i, name in enumerate(places)}
    ordered = order_together(
        [m.photo for m in results.trip.moments if m.photo in results.photos], day_of, scene, alike
    )
    photos = [results.photos[photo] for photo in ordered]
    cameras = name_cameras(p.camera for p in photos)
    camera_names = tuple(sorted(set(cameras.values())))
    prints = [_reckon_print(p, results.book) for p in photos]
    stops = [moments[p].stop for p in ordered]
    eyes = [find_eye(p.look) for p in photos]
    days = [day_of.get(p, len(results.trip.days)) for p in ordered]
    facts = PictureFacts(
        key="",
        page_mm=(results.book.trim.width, results.book.trim.height),
        days=_describe_days(results, days, [None if s is None else names[s] for s in stops]),
        places=places,
        cameras=camera_names,
        limits=tuple(limit.value for limit in LIMITS),
        id=ordered,
        of=[p.content[:CONTENT_DIGITS] for p in photos],
        name=[p.path.rsplit("/", 1)[-1] for p in photos],
        time=[_tell_time(moments[p]) for p in ordered],
        day=days,
        place=[UNKNOWN if s is None else place_at[names[s]] for s in stops],
        camera=[
            UNKNOWN if p.camera is None else camera_names.index(cameras[p.camera]) for p in photos
        ],
        width_px=[p.size.width_px for p in photos],
        height_px=[p.size.height_px for p in photos],
        tone=[_mix_tone(p.look) for p in photos],
        faces=[len(p.look.faces) if p.look else 0 for p in photos],
        eye_x=[x for x, _ in eyes],
        eye_y=[y for _, y in eyes],
        sharp=[round(100 * count_sharp(p.look)) if p.look else UNKNOWN for p in photos],
        clipped=[round(100 * p.look.clipped) if p.look else 0 for p in photos],
        largest_mm=[width for width, _ in prints],
        limit=[LIMITS.index(limit) for _, limit in prints],
        alike=[alike.get(p, UNKNOWN) for p in ordered],
        scene=[scene.get(p, UNKNOWN) for p in ordered],
    )
    return replace(facts, key=hash_values(facts))


def _describe_days(
    results: Results, days: Sequence[int], places: Sequence[str | None]
) -> tuple[DayView, ...]:
    seen: dict[int, dict[str, None]] = defaultdict(dict)
    for day, place in zip(days, places, strict=True):
        if place:
            seen[day][place] = None
    known = [
        DayView(day.date, day.number, tuple(seen[i])) for i, day in enumerate(results.trip.days)
    ]
    return (*known, DayView(None, 0, tuple(seen[len(known)])))


def _tell_time(moment: Moment) -> str:
    return moment.local.strftime("%H:%M") if moment.local else ""


def _mix_tone(look: Look | None) -> str:
    if look is None or not look.palette:
        return ""
    tones = look.palette
    whole = sum(tone.share for tone in tones)
    lightness = sum(tone.share * tone.lightness for tone in tones) / whole
    a = sum(tone.share * tone.a for tone in tones) / whole
    b = sum(tone.share * tone.b for tone in tones) / whole
    return f"{lightness:.2f} {a:.3f} {b:.3f}"


def find_eye(look: Look | None) -> tuple[int, int]:
    """Give where the eye goes first, in hundredths; the middle where nobody has looked."""
    if look is None:
        return (50, 50)
    if look.faces:
        box = max((face.box for face in look.faces), key=lambda box: box.width * box.height)
        return (round(100 * (box.x + box.width / 2)), round(100 * (box.y + box.height / 2)))
    seen = look.salience
    row, column = seen.peak
    return (round(100 * (column + 0.5) / seen.columns), round(100 * (row + 0.5) / seen.rows))


def _reckon_print(photo: Photo, book: Book) -> tuple[int, Limit]:
    largest = largest_print(
        photo, distance=book.arranging.reading_distance, surface=book.paper.surface
    )
    return int(largest.width), largest.limit


def name_cameras(cameras: Iterable[Camera | None]) -> Mapping[Camera, str]:
    """Give each camera a name; two of one model are told apart by the end of their number."""
    bodies = {c for c in cameras if c is not None}
    models = Counter((c.make, c.model) for c in bodies)
    return {c: _name_camera(c, alone=models[c.make, c.model] == 1) for c in bodies}


def _name_camera(camera: Camera, *, alone: bool) -> str:
    # Many makers begin the model with their own name.
    model = camera.model.removeprefix(camera.make).strip()
    name = " ".join(filter(None, (camera.make, model))) or "…"
    return name if alone or not camera.serial else f"{name} …{camera.serial[-4:]}"
