"""Chapters: a place and the days spent there; by days where there are no places."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wayfold.base.findings import Finding, Severity
from wayfold.book.state import Book, ChapterChoice
from wayfold.story.drafts import Draft, draft_days, draft_places, join_surroundings, join_tiny
from wayfold.story.entries import Entry
from wayfold.story.model import Chapter
from wayfold.story.names import name_undated
from wayfold.trip.model import Trip


@dataclass(frozen=True, slots=True)
class FilledChapter:
    """A chapter, its pictures in order of time, and the key of its text.

    ``choice`` is what the person said of it; ``opening`` the picture that lies behind its title.
    """

    chapter: Chapter
    entries: tuple[Entry, ...]
    text: str | None = None
    choice: ChapterChoice | None = None
    opening: Entry | None = None


def divide_into_chapters(
    entries: Sequence[Entry], trip: Trip, book: Book
) -> tuple[tuple[FilledChapter, ...], tuple[Finding, ...]]:
    """Give the chapters in order of time, pictures without a day last.

    Consecutive stops at places of one name make a chapter. What the person says of a place
    (``Book.chapters``) keeps it a chapter however small and draws the stops next to it into it,
    up to ``drafts.NEAR_M`` away; said twice, it is of the first and the second visit. A choice for
    a place that no picture was taken at gives a finding.
    """
    dated = [e for e in entries if e.local]
    if any(e.stop is not None for e in dated):
        spoken_of = frozenset(c.place for c in book.chapters)
        drafts = join_surroundings(draft_places(dated, trip.stops), spoken_of)
        drafts = join_tiny(drafts, spoken_of)
    else:
        drafts = draft_days(dated, trip, book.language)
    undated = tuple(e for e in entries if not e.local)
    if undated:
        drafts.append(Draft(name_undated(not drafts, book.language), "", undated))
    return _apply_choices(drafts, book)


def _apply_choices(
    drafts: Sequence[Draft], book: Book
) -> tuple[tuple[FilledChapter, ...], tuple[Finding, ...]]:
    filled_chapters = []
    used: dict[str, int] = {}
    for draft in drafts:
        said = [c for c in book.chapters if c.place == draft.name]
        visit = used.get(draft.name, 0)
        used[draft.name] = visit + 1
        choice = said[visit] if visit < len(said) else ChapterChoice(draft.name)
        accent = choice.accent or (said[-1].accent if said else None)
        days = [e.day for e in draft.entries if e.day]
        chapter = Chapter(
            title=choice.title or draft.name,
            subtitle=choice.subtitle or "",
            country_name=draft.country_name,
            first=days[0] if days else None,
            last=days[-1] if days else None,
            accent=accent,
            mapped=draft.country if choice.country_map and draft.country else None,
            place=draft.name if draft.country else "",
        )
        filled_chapters.append(FilledChapter(chapter, draft.entries, choice.text, choice))
    return tuple(filled_chapters), tuple(_judge_choices(book, used))


def _judge_choices(book: Book, used: dict[str, int]) -> list[Finding]:
    places = ", ".join(used) or "none"
    return [
        Finding(
            "story.chapter",
            Severity.WARN,
            f"book.toml, chapter {choice.place}",
            f"No picture in the book was taken at {choice.place}, so this chapter is left out.",
            f"Write the place as the journey knows it: {places}.",
        )
        for choice in book.chapters
        if choice.place not in used
    ]
