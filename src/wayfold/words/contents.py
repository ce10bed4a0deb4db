"""The contents: one line a chapter, leaders, the page its opener lies on."""

from __future__ import annotations

from dataclasses import replace

from wayfold.book.state import Book
from wayfold.drawing.text import Paragraph, Run
from wayfold.plan.model import Plan
from wayfold.story.model import BlockKind, Story
from wayfold.words.journey_terms import JourneyTerm, say_journey
from wayfold.words.punctuation import set_punctuation
from wayfold.words.styles import style_contents, style_title_line
from wayfold.words.terms import Term, say

AIR_ABOVE_LINES_PT = 18.0
AIR_BETWEEN_LINES_PT = 6.0


def write_contents(book: Book, story: Story, plan: Plan) -> tuple[Paragraph, ...]:
    """Give the heading and a line for foreword, itinerary and each chapter's opener, in order.

    A chapter whose title does not name its place is followed by it, so that a place on the map or
    in the itinerary can be looked up here.
    """
    heading = Paragraph((Run(say(Term.CONTENTS, book.language)),), style_title_line(book))
    entries: list[tuple[int, str, str]] = []
    planned = {page.block for page in plan.pages}
    for block in story.blocks:
        if block.id not in planned:
            continue
        if block.kind is BlockKind.OPENER and block.chapter is not None:
            chapter = story.chapters[block.chapter]
            title = set_punctuation(chapter.title, book.language)
            place = "" if chapter.place.casefold() in chapter.title.casefold() else chapter.place
            entries.append((plan.first_page_of(block.id), title, place))
        elif block.kind is BlockKind.FOREWORD:
            entries.append((plan.first_page_of(block.id), say(Term.FOREWORD, book.language), ""))
        elif block.kind is BlockKind.ITINERARY:
            title = say_journey(JourneyTerm.TITLE, book.language)
            entries.append((plan.first_page_of(block.id), title, ""))
    if not entries:
        return ()
    style = style_contents(book)
    lines = [
        Paragraph(
            (Run(title), *_tell_place(place), Run(leader=True), Run(str(page))),
            replace(style, space_before_pt=AIR_BETWEEN_LINES_PT if i else AIR_ABOVE_LINES_PT),
        )
        for i, (page, title, place) in enumerate(sorted(entries))
    ]
    return (heading, *lines)


def _tell_place(place: str) -> tuple[Run, ...]:
    return (Run(f"\N{EM SPACE}{place}", italic=True),) if place else ()
