"""Camera bodies, what is evidence of their clocks, and what the evidence comes to.

One sign throughout: ``ahead_s`` is what the clock showed less UTC, in seconds. A clock set to
Madrid's summer time and two minutes fast is 7,320 s ahead: zone +02:00, slip +120 s. So
UTC = shown - ahead.
"""

from __future__ import annotations

import enum
from dataclasses import dataclass
from datetime import datetime

from wayfold.base.world import LonLat


@dataclass(frozen=True, slots=True)
class Body:
    """One camera body and its pictures' ids, in order of the time it showed.

    ``key`` names it in ``trip.toml`` and in reports: make and model with the serial number, or
    with the letters that its files' names begin with where the files tell no serial.
    """

    key: str
    photos: tuple[str, ...]


class Kind(enum.StrEnum):
    """What a piece of evidence is."""

    PERSON = "your own word"
    CLOCK_PICTURE = "a picture of a clock"
    GPS = "the receiver's time in the picture"
    LOCAL = "the local time at the picture's place"
    TAG = "the zone written in the picture"
    SCENE = "one scene in two cameras"
    RHYTHM = "both cameras busy at the same moments"
    PAUSE = "busy while a track stood still"
    TRACK = "a place on a track"
    EVENT = "a place in the calendar"


@dataclass(frozen=True, slots=True)
class Hint:
    """One piece of evidence: the clock was between ``low_s`` and ``high_s`` ahead of UTC.

    ``shown`` is what the clock showed then (naive). ``weight`` is worth in comparison with one
    pair of pictures of one scene (1.0).
    """

    kind: Kind
    shown: datetime
    low_s: float
    high_s: float
    weight: float
    words: str


@dataclass(frozen=True, slots=True)
class ScenePair:
    """Two pictures, of two bodies, that show one scene at about one moment."""

    one: str
    other: str
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class Anchor:
    """The party was at ``place`` from ``first`` to ``last`` (aware, UTC): a booking, a visit."""

    first: datetime
    last: datetime
    place: LonLat
    words: str = ""


@dataclass(frozen=True, slots=True)
class ClockPicture:
    """A picture of a right clock that showed ``shown`` (naive, local time there).

    ``zone`` is its zone's name, or None: then that of the picture's place.
    """

    photo: str
    shown: datetime
    zone: str | None = None


@dataclass(frozen=True, slots=True)
class ClockChoice:
    """The person's one line on a body's clock; it wins over all evidence.

    Either ``zone`` (a name: the clock was put forward and back with that place) or
    ``zone_minutes`` east of UTC; with ``slip_s`` seconds fast (slow if negative). Neither: the
    zones in its files hold. ``local``: the clock showed local time everywhere.
    """

    body: str
    zone_minutes: float | None = None
    zone: str | None = None
    slip_s: float = 0.0
    local: bool = False

    @property
    def keeps_tags(self) -> bool:
        """Whether the zones in the files hold."""
        return self.zone is None and self.zone_minutes is None and not self.local


class State(enum.StrEnum):
    """What is known of a clock."""

    CHOSEN = "chosen by you"
    OWN = "its files tell the zone themselves"
    KNOWN = "known"
    ROUGH = "known roughly"
    UNKNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a clock's life without anyone setting it.

    It begins with the first picture that showed ``since`` or later (None: from the start).
    ``ahead_s`` holds at ``middle``; ``drift_s_day`` is how much it gains a day (0: none found).
    ``zone_minutes`` and ``slip_s`` say the same as ``ahead_s``, as a person set the clock:
    ``zone_minutes`` is None where the clock was not on any zone's date.
    ``error_s`` is the error that 95 of 100 such readings keep within.
    """

    since: datetime | None
    ahead_s: float
    zone_minutes: int | None
    slip_s: float
    error_s: float
    middle: datetime
    drift_s_day: float = 0.0

    def ahead_at(self, shown: datetime) -> float:
        """Give how many seconds the clock was ahead of UTC when it showed ``shown``."""
        return self.ahead_s + self.drift_s_day * (shown - self.middle).total_seconds() / 86_400.0


@dataclass(frozen=True, slots=True)
class EvidenceRow:
    """One kind of evidence in words and numbers: how many pieces, how many agree, what they say."""

    kind: Kind
    pieces: int
    agreeing: int
    ahead_s: float | None
    spread_s: float | None
    words: str


@dataclass(frozen=True, slots=True)
class ClockReading:
    """What is known of one body's clock, with all the evidence for and against it.

    With state ``OWN`` the ``spans`` tell the slip against the zone in each file and may be empty
    (no slip). ``confidence`` is 0-1, the margin over the next best explanation (own rule).
    ``choice`` is the person's line, where it decided.
    """

    body: Body
    state: State
    spans: tuple[Span, ...]
    confidence: float
    evidence: tuple[EvidenceRow, ...]
    words: str
    choice: ClockChoice | None = None

    def span_at(self, shown: datetime) -> Span | None:
        """Give the span that a picture showing ``shown`` belongs to."""
        found = None
        for span in self.spans:
            if span.since is None or shown >= span.since:
                found = span
        return found
