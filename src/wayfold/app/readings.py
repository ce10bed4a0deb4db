"""What single stages read of a book. All else is taken out, so that a change of it is none to them.

A stage that reads more than it is given here would read defaults, when a book is made anew as well:
nothing is ever out of date, and the tests of that stage would show it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from wayfold.book.arranging import Arranging
from wayfold.book.casing import BenchChoices
from wayfold.book.materials import Printer
from wayfold.book.planning import Planning
from wayfold.book.reprinting import Reprinting
from wayfold.book.state import Book, PhotoChoice
from wayfold.book.trip_choices import TripChoices
from wayfold.trip.journey.route import Route, RoutePlace

WORDS = "…"
"""Stands for words of which only matters that there are some."""


def bare_for_journey(book: Book) -> Book:
    """For the trip and the journey: what the person says of them."""
    return Book("", language=book.language, journey=book.journey)


def bare_for_itinerary(book: Book) -> Book:
    """For the itinerary's table and its pages."""
    return replace(bare_for_journey(book), trim=book.trim, bleed=book.bleed, style=book.style)


def bare_for_texts(book: Book) -> Book:
    """For counting the pages of texts: the page, which texts open chapters and go with pictures."""
    named = {key: PhotoChoice(text=one.text) for key, one in book.choices.items() if one.text}
    return Book(
        "",
        language=book.language,
        trim=book.trim,
        bleed=book.bleed,
        style=book.style,
        chapters=book.chapters,
        choices=named,
    )


def bare_for_colophon(book: Book) -> Book:
    """For the colophon: makers, paper and printer."""
    return replace(
        bare_for_paper(book),
        author=book.author,
        finished=book.finished,
        language=book.language,
        style=book.style,
    )


def bare_for_story(book: Book) -> Book:
    """For the story: neither how captions and texts read nor how the work is done."""
    return replace(
        book,
        title="",
        subtitle="",
        author="",
        finished=None,
        printer=Printer(),
        registration=None,
        planning=Planning(),
        arranging=Arranging(exchanged=book.arranging.exchanged),
        reprinting=Reprinting(),
        bench=BenchChoices(),
        choices=_forget_captions(book.choices),
        texts={key: WORDS if text.strip() else "" for key, text in book.texts.items()},
    )


def bare_for_maps(book: Book) -> Book:
    """For the maps: the page, its type and colours, towns' places, the unit, and whether flags."""
    said = book.journey
    return Book(
        "",
        language=book.language,
        trim=book.trim,
        bleed=book.bleed,
        style=book.style,
        journey=TripChoices(unit=said.unit, flags=said.flags, places=said.places),
    )


def bare_for_line(route: Route) -> Route:
    """For the journey's line: where its places lie, and not what is known of them."""
    bare = (RoutePlace("", "", "", place.place, (), 0) for place in route.places)
    return replace(route, places=tuple(bare))


def bare_for_paper(book: Book) -> Book:
    """For the sheets: papers, printer and sewing."""
    return Book(
        "",
        trim=book.trim,
        bleed=book.bleed,
        paper=book.paper,
        translucent=book.translucent,
        printer=book.printer,
        binding=book.binding,
        registration=book.registration,
    )


def _forget_captions(choices: Mapping[str, PhotoChoice]) -> Mapping[str, PhotoChoice]:
    return {
        key: one if one.caption is None else replace(one, caption=None)
        for key, one in choices.items()
    }
