"""From photographs, bookings and the person's words to the story that the book tells."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wayfold.app.journey import derive_journey
from wayfold.app.maps import wants_overview
from wayfold.app.readings import (
    bare_for_colophon,
    bare_for_itinerary,
    bare_for_story,
    bare_for_texts,
)
from wayfold.app.sets import list_sets
from wayfold.app.veiled import read_lightness
from wayfold.base.memory import Aside, Memory
from wayfold.book.state import Book
from wayfold.drawing.text import TextMeasurer
from wayfold.layout.account import count_account_pages
from wayfold.layout.tables import count_itinerary_pages
from wayfold.layout.texts import count_text_pages
from wayfold.photos.catalogue import Catalogue
from wayfold.photos.model import Credit, Photo
from wayfold.photos.sets import PhotoSets
from wayfold.project.files import BookFolder
from wayfold.story.model import Story
from wayfold.story.openings import ReadLightness
from wayfold.story.tell import tell_story
from wayfold.trip.journey.model import Journey
from wayfold.trip.model import Trip
from wayfold.words.colophon import draft_colophon
from wayfold.words.itinerary import ITINERARY, wants_itinerary, write_itinerary
from wayfold.words.texts import COLOPHON, style_texts


@dataclass(frozen=True, slots=True)
class Told:
    """What the story is told of, and the story."""

    trip: Trip
    journey: Journey
    sets: PhotoSets
    story: Story


def derive_story(
    folder: BookFolder,
    book: Book,
    catalogue: Catalogue,
    measurer: TextMeasurer,
    memory: Memory | None = None,
) -> Told:
    """Give the trip, the journey of it, the sets of like pictures, and the story told of it."""
    memory = memory or Memory()
    photos = memory.recall(index_photos, catalogue.photos)
    trip, journey = derive_journey(folder, book, catalogue, memory)
    text_pages = _count_pages(book, catalogue.photos, journey, measurer, memory)
    sets = memory.recall(list_sets, catalogue.photos)
    story = memory.recall(
        _tell_story,
        trip,
        bare_for_story(book),
        photos,
        text_pages,
        wants_overview(book, journey),
        sets,
        memory.recall(read_lightness, folder),
        Aside(memory),
    )
    return Told(trip, journey, sets, story)


def index_photos(photos: tuple[Photo, ...]) -> Mapping[str, Photo]:
    """Give photographs by their ids."""
    return {photo.id: photo for photo in photos}


def _count_pages(
    book: Book,
    photos: tuple[Photo, ...],
    journey: Journey,
    measurer: TextMeasurer,
    memory: Memory,
) -> Mapping[str, int]:
    """Give the pages that each of the book's texts takes, by its key."""
    texts = dict(style_texts(book, memory))
    if COLOPHON not in texts:
        about = bare_for_colophon(book)
        texts[COLOPHON] = memory.recall(draft_colophon, about, memory.recall(_list_credits, photos))
    counted = dict(memory.recall(count_text_pages, texts, bare_for_texts(book), measurer))
    counted |= memory.recall(count_account_pages, texts, bare_for_texts(book), measurer)
    if wants_itinerary(book, journey):
        table = bare_for_itinerary(book)
        counted[ITINERARY] = memory.recall(_count_itinerary, table, journey, measurer)
    return counted


def _list_credits(photos: tuple[Photo, ...]) -> tuple[Credit, ...]:
    return tuple(photo.credit for photo in photos if photo.credit)


def _count_itinerary(book: Book, journey: Journey, measurer: TextMeasurer) -> int:
    return count_itinerary_pages(write_itinerary(book, journey), book, measurer)


def _tell_story(
    trip: Trip,
    book: Book,
    photos: Mapping[str, Photo],
    text_pages: Mapping[str, int],
    overview: bool,
    sets: PhotoSets,
    lightness: ReadLightness,
    memory: Aside[Memory],
) -> Story:
    return tell_story(
        trip,
        book,
        photos,
        text_pages,
        overview=overview,
        sets=sets,
        read_lightness=lightness,
        memory=memory.value,
    )
