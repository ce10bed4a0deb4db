"""Every word of the book, styled, once it is known on which page each chapter begins."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from wayfold.base.memory import Memory
from wayfold.book.state import Book
from wayfold.drawing.colour import Colour
from wayfold.drawing.text import Paragraph, Run
from wayfold.photos.model import Photo
from wayfold.plan.model import Plan
from wayfold.story.model import BlockKind, Chapter, Story
from wayfold.trip.journey.model import Journey
from wayfold.words.accent import darken_accent
from wayfold.words.colophon import list_families, write_colophon
from wayfold.words.contents import write_contents
from wayfold.words.dates import write_date, write_dates
from wayfold.words.itinerary import write_itinerary
from wayfold.words.judge import judge_words
from wayfold.words.leaves import write_leaves
from wayfold.words.model import Words
from wayfold.words.notes import refuse_calls
from wayfold.words.punctuation import hold_last_word, hold_small_words, set_punctuation
from wayfold.words.styles import (
    bare_for_type,
    style_caption,
    style_day_line,
    style_running_head,
    style_subtitle,
    style_title,
    style_title_line,
)
from wayfold.words.terms import Term, say
from wayfold.words.texts import COLOPHON, FOREWORD, style_texts

CLOSING = "closing"
APART = "\N{NO-BREAK SPACE}" * 6
"""Parts the day from its date; not every sans has an em space."""


def write_words(
    book: Book,
    story: Story,
    plan: Plan,
    photos: Mapping[str, Photo],
    journey: Journey | None = None,
    licences: Mapping[str, str] | None = None,
    memory: Memory | None = None,
) -> Words:
    """Give all texts of the book by the keys that ``Words`` names. Raises UserError as texts do.

    Days are numbered from the first of the ``journey``, or else of the story. ``licences`` are
    those of font families, for the colophon. What is in ``memory`` from the last time is not
    written again.
    """
    memory = memory or Memory()
    about = bare_for_type(book)
    texts = style_texts(book, memory)
    words: dict[str, tuple[Paragraph, ...]] = {
        **_write_titles(book),
        **{key: texts[key] for key in (FOREWORD, CLOSING) if key in texts},
        "contents": write_contents(book, story, plan),
    }
    for index, chapter in enumerate(story.chapters):
        words[f"opener:{index}"] = write_opener(book, chapter)
        words[f"running:{index}"] = (
            Paragraph((Run(_plain(book, chapter.title)),), style_running_head(book)),
        )
    for block in story.blocks:
        if block.text and block.text in texts and block.text not in (FOREWORD, COLOPHON):
            key = CLOSING if block.kind is BlockKind.CLOSING else f"text:{block.id}"
            words[key] = texts[block.text]
        for photo in block.photos:
            caption = _find_caption(book, photo, photos)
            words[f"caption:{photo}"] = memory.recall(
                _write_caption, about, photo, caption, at=photo
            )
    words.update(_write_day_lines(book, story, journey))
    words.update(write_leaves(book, story, plan, words))
    shown = (photos[p] for block in story.blocks for p in block.photos if p in photos)
    credits = [photo.credit for photo in shown if photo.credit]
    with_maps = any(b.kind in (BlockKind.OVERVIEW, BlockKind.MAP) for b in story.blocks)
    words[COLOPHON] = texts.get(COLOPHON) or write_colophon(
        book,
        list_families(book, words, with_maps=with_maps),
        licences or {},
        credits,
        with_leaves=bool(plan.interleaves),
    )
    told = {key: paragraphs for key, paragraphs in words.items() if paragraphs}
    has_table = any(block.kind is BlockKind.ITINERARY for block in story.blocks)
    itinerary = None
    if journey and has_table:
        itinerary = write_itinerary(book, journey, _find_days(journey, story, plan))
    return Words(told, judge_words(book, story, texts, credits), itinerary)


def write_opener(book: Book, chapter: Chapter) -> tuple[Paragraph, ...]:
    """Give a chapter's title, its subtitle, and country and dates in the chapter's accent."""
    accent = Colour.of(chapter.accent) if chapter.accent else book.style.accent
    for line in (chapter.title, chapter.subtitle):
        refuse_calls(line, "A title", f"book.toml, chapter “{chapter.title}”")
    title = hold_small_words(_plain(book, chapter.title))
    paragraphs = [Paragraph((Run(title),), style_title(book))]
    if chapter.subtitle:
        style = replace(style_subtitle(book), space_before_pt=4.0)
        paragraphs.append(Paragraph((Run(_plain(book, chapter.subtitle)),), style))
    line = say_where_and_when(book, chapter)
    if line:
        style = replace(style_title_line(book, darken_accent(accent)), space_before_pt=11.0)
        paragraphs.append(Paragraph((Run(line),), style))
    return tuple(paragraphs)


def say_where_and_when(book: Book, chapter: Chapter) -> str:
    """Give "Spain, 12–15 May 2025", or the half of it that is known."""
    parts = [_plain(book, chapter.country_name)] if chapter.country_name else []
    first, last = chapter.first or chapter.last, chapter.last or chapter.first
    if first and last:
        parts.append(write_dates(first, last, book.language))
    return ", ".join(parts)


def _plain(book: Book, text: str) -> str:
    return set_punctuation(text, book.language)


def _write_titles(book: Book) -> dict[str, tuple[Paragraph, ...]]:
    title = _plain(book, book.title)
    small_caps = style_title_line(book)
    words: dict[str, tuple[Paragraph, ...]] = {
        "half-title": (Paragraph((Run(title),), small_caps),),
        "title": (Paragraph((Run(hold_small_words(title)),), style_title(book)),),
    }
    if book.subtitle.strip():
        words["subtitle"] = (
            Paragraph((Run(hold_small_words(_plain(book, book.subtitle))),), style_subtitle(book)),
        )
    if book.author.strip():
        words["author"] = (Paragraph((Run(_plain(book, book.author)),), small_caps),)
    return words if title else {k: v for k, v in words.items() if k not in ("half-title", "title")}


def _find_caption(book: Book, photo: str, photos: Mapping[str, Photo]) -> str:
    caption = book.choice(photo).caption
    if caption is None:
        caption = photos[photo].caption if photo in photos else None
    return caption or ""


def _write_caption(book: Book, photo: str, caption: str) -> tuple[Paragraph, ...]:
    refuse_calls(caption, "A caption", f"photos.toml, photo.{photo}, caption")
    text = hold_last_word(_plain(book, caption))
    return (Paragraph((Run(text),), style_caption(book)),) if text else ()


def _find_days(journey: Journey, story: Story, plan: Plan) -> dict[date, int]:
    """Give the first page with pictures of each day that has any in the book.

    The picture that a chapter opens with stands before its time, so its page counts for no day
    that has others.
    """
    planned = {page.block for page in plan.pages}
    pages: dict[str, tuple[bool, int]] = {}
    for block in story.blocks:
        if block.id in planned:
            opens = block.kind is BlockKind.OPENER
            pages |= dict.fromkeys(block.photos, (opens, plan.first_page_of(block.id)))
    of_days = {
        day.date: [pages[photo] for photo in day.photos if photo in pages] for day in journey.days
    }
    return {day: min(found)[1] for day, found in of_days.items() if found}


def _write_day_lines(
    book: Book, story: Story, journey: Journey | None
) -> dict[str, tuple[Paragraph, ...]]:
    days = {block.day for block in story.blocks if block.day}
    starts = [c.first for c in story.chapters if c.first]
    if not days:
        return {}
    first = min([*days, *starts])
    if journey and journey.start:
        first = min(first, journey.start)
    words: dict[str, tuple[Paragraph, ...]] = {}
    for day in days:
        label = f"{say(Term.DAY, book.language)}\N{NO-BREAK SPACE}{(day - first).days + 1}"
        told, style = write_date(day, book.language), style_day_line(book)
        words[f"day:{day.isoformat()}"] = (Paragraph((Run(f"{label}{APART}{told}"),), style),)
        words[f"day-opener:{day.isoformat()}"] = (
            Paragraph((Run(label),), style),
            Paragraph((Run(told),), style),
        )
    return words
