"""What the book takes and leaves of its photographs, why, and where they stand; and deciding it."""

from __future__ import annotations

import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from weakref import WeakKeyDictionary

from wayfold.app.rooms.pictures import UNKNOWN, PictureFacts, list_facts
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.base.errors import NotFoundError
from wayfold.base.hashing import hash_values
from wayfold.book.edits import SetPicks
from wayfold.book.state import Pick
from wayfold.layout.model import BookLayout, PictureFrame
from wayfold.story.choose import judge_photos

LETTERS = {Pick.HERO: "h", Pick.TAKE: "t", Pick.LEAVE: "l", Pick.OPEN: "o"}


@dataclass(frozen=True, slots=True)
class PictureVerdicts:
    """Verdicts in columns, in the order of the facts that ``facts`` is the key of.

    ``picks`` has a letter a photograph, the person's own word: hero, take, leave, or open.
    ``taken`` has "1" for each that the book takes. ``reason`` is an index into ``reasons``;
    ``instead`` and ``runner_up`` are places in the columns, -1 for none; ``page`` is the first
    page that shows the photograph, 0 where none does.
    """

    key: str
    facts: str
    reasons: tuple[str, ...]
    picks: str
    taken: str
    reason: list[int]
    instead: list[int]
    runner_up: list[int]
    page: list[int]


class _Kept:
    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.results: Results | None = None
        self.verdicts: PictureVerdicts | None = None


_KEPT: WeakKeyDictionary[Session, _Kept] = WeakKeyDictionary()


def list_verdicts(session: Session) -> PictureVerdicts:
    """Give the verdicts on the open book's photographs as they are now."""
    kept = _KEPT.setdefault(session, _Kept())
    with kept.lock:
        results = session.results
        if kept.verdicts is None or kept.results is not results:
            kept.verdicts = gather_verdicts(results, list_facts(session))
            kept.results = results
        return kept.verdicts


def gather_verdicts(results: Results, facts: PictureFacts) -> PictureVerdicts:
    """Give the verdicts in ``results`` in the order of ``facts``."""
    judged = judge_photos(results.trip, results.book, results.photos, results.sets)
    by_photo = {verdict.photo: verdict for verdict in judged}
    verdicts = [by_photo[photo] for photo in facts.id]
    at = {photo: i for i, photo in enumerate(facts.id)}
    reasons = tuple(dict.fromkeys(verdict.reason for verdict in verdicts))
    reason_at = {reason: i for i, reason in enumerate(reasons)}
    pages = find_pages(results.layout)
    gathered = PictureVerdicts(
        key="",
        facts=facts.key,
        reasons=reasons,
        picks="".join(LETTERS[results.book.choice(photo).pick] for photo in facts.id),
        taken="".join("1" if verdict.taken else "0" for verdict in verdicts),
        reason=[reason_at[verdict.reason] for verdict in verdicts],
        instead=[at.get(verdict.instead or "", UNKNOWN) for verdict in verdicts],
        runner_up=[at.get(verdict.runner_up or "", UNKNOWN) for verdict in verdicts],
        page=[pages.get(photo, 0) for photo in facts.id],
    )
    return replace(gathered, key=hash_values(gathered))


def find_pages(layout: BookLayout) -> Mapping[str, int]:
    """Give the first page that each photograph of the book stands on."""
    pages: dict[str, int] = {}
    for page in layout.pages:
        for frame in page.frames:
            if isinstance(frame, PictureFrame):
                pages.setdefault(frame.photo, page.number)
    return pages


def decide(session: Session, picks: Sequence[tuple[str, str]]) -> None:
    """Put what the person says of photographs into the book, all as one change.

    ``picks`` are pairs of a photograph's id and hero, take, leave or open.
    Raises NotFoundError where the book does not have one of them; nothing is changed then.
    """
    for photo, _ in picks:
        if photo not in session.results.photos:
            raise NotFoundError(
                "The book has this photograph no more.",
                where=photo,
                remedy="Look at the pictures again: files may have been moved meanwhile.",
            )
    if picks:
        session.edit(SetPicks(tuple((photo, Pick(pick)) for photo, pick in picks)))
