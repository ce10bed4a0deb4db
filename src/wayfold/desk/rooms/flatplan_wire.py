"""What the flatplan's room sends; ``app.rooms.flatplan`` and its kin say what it means."""

from __future__ import annotations

from pydantic import Field

from wayfold.app.rooms.flatplan_rows import Moved
from wayfold.app.rooms.flatplan_ways import WayName
from wayfold.app.rooms.flatplan_wishes import Asked, WishName
from wayfold.desk.wire import Wire
from wayfold.desk.wording import Told


class FlatPage(Wire):
    """A page: part ``part`` (from 0) of ``block`` lies on it, null where it is white."""

    number: int
    block: str | None
    part: int
    picture: str


class FlatPhoto(Wire):
    """A photograph of a block; ``of`` are digits that its content begins with."""

    id: str
    name: str
    of: str
    pick: str
    interleaf: bool


class Held(Wire):
    """How a block is held fast: on a page, at a centre, in a way (from 1), where it was."""

    page: int | None
    centre: bool
    way: int | None
    stays: bool


class FlatBlock(Wire):
    """A block as it lies; ``place`` is that of the chapter it opens, else empty."""

    id: str
    name: str
    kind: str
    chapter: str
    first_page: int
    pages: int
    crosses: list[int]
    photos: list[FlatPhoto]
    held: Held | None
    place: str
    leaf: bool


class FlatGathering(Wire):
    """A gathering; ``printed`` are those of its sheets that lie printed (1 is the outermost).

    ``signature`` is the letter that is printed on its spine.
    """

    number: int
    signature: str
    sheets: int
    first_page: int
    last_page: int
    printed: list[int]


class FlatEnd(Wire):
    """Where an interleaf comes out: after page ``after_page``, made for page ``over`` or none."""

    after_page: int
    role: str
    over: int | None


class FlatLeaf(Wire):
    """An interleaf, ``depth`` paper sheets outside it; null where it is pasted in."""

    gathering: int
    depth: int | None
    ends: list[FlatEnd]


class Flatplan(Wire):
    """The whole flatplan."""

    revision: str
    trim_width_mm: float
    trim_height_mm: float
    pages: list[FlatPage]
    blocks: list[FlatBlock]
    gatherings: list[FlatGathering]
    leaves: list[FlatLeaf]


class Offered(Wire):
    """A plan on offer: ``choices`` all come to it, ``taken`` is the book's own among them."""

    choices: list[str]
    taken: bool
    pages: int
    gatherings: list[int]
    sheets: int
    heroes: int
    heroes_at_centres: int
    unmet: int
    unasked_whites: int


class UnmetWish(Wire):
    """A wish of a block that the plan does not meet, and the page it concerns."""

    kind: str
    block: str
    page: int


class PlanFinding(Wire):
    """What its maker should know of the plan; ``page`` is where to look, null for all of it."""

    severity: str
    message: Told
    remedy: Told
    page: int | None


class Judged(Wire):
    """What can be said of the plan: its cost in points, and what could at most be saved."""

    cost: int
    gap: int
    offers: list[Offered]
    unmet: list[UnmetWish]
    findings: list[PlanFinding]


class Otherwise(Wire):
    """A block laid otherwise, and what that costs more; null where it cannot be, or far more."""

    way: int
    position: str | None
    extra: int | None


class Why(Wire):
    """Why a block lies where it lies, and what it would cost otherwise, the cheapest first."""

    block: str
    reasons: list[Told]
    otherwise: list[Otherwise]


class AskedTrial(Wire):
    """A wish to be tried.

    ``what`` is the id of a block or photograph, a chapter's place or a plan's name; ``page`` where
    a block is to begin.
    """

    name: WishName
    what: str = Field(min_length=1, max_length=200)
    page: int | None = Field(default=None, ge=1, le=100_000)

    def read(self) -> Asked:
        """Give the wish as the room knows it."""
        return Asked(self.name, self.what, self.page)


class Begun(Wire):
    """A trial that is being planned, by the work of that number; once that is done it is there."""

    number: int
    work: int


class TriedPage(Wire):
    """A page in the row of before or after; ``picture`` is null where it is not drawn yet."""

    number: int
    block: str | None
    name: str
    moved: Moved
    other: int | None
    opens: bool
    centre: bool
    veiled: bool
    picture: str | None


class TriedLeaf(Wire):
    """The interleaf that was asked for, and where it comes out again; pasted in, nowhere."""

    over: int
    depth: int | None
    after_page: int | None
    role: str
    facing: list[str]


class SheetAgain(Wire):
    """A printed sheet that would have to be printed again, and why."""

    label: str
    reasons: list[str]


class TriedWay(Wire):
    """A way out; ``extra`` is what it costs more, in points, null where that is not known."""

    name: WayName
    changes: list[str]
    extra: int | None
    page: int | None
    block: str


class Tried(Wire):
    """A trial for a person to judge: what comes of a wish, before anything is changed."""

    number: int
    possible: bool
    met: bool
    still: bool
    block: str
    lies: list[str]
    changes: list[str]
    extra: int | None
    findings: list[PlanFinding]
    before: list[TriedPage]
    after: list[TriedPage]
    leaf: TriedLeaf | None
    ways: list[TriedWay]
    gatherings_again: list[int]
    drawn: bool
    work: int | None
    sheets_again: list[SheetAgain] | None
