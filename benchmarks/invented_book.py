"""A book of photographs that exist as records only, with looks, from seeds: no file is read.

Pictures of a dozen days along a coast: landscape and upright, square and wide, some
with faces, most with captions of one to three lines, some rated; a few heroes, bursts of one scene,
neighbouring panoramas. The same on every machine.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

from benchmarks.pictures import DAYS, FIRST_DAY, TOWNS
from wayfold.app.planning import keep_or_plan
from wayfold.app.telling import derive_story
from wayfold.base.geometry import Rect
from wayfold.base.world import LonLat
from wayfold.book.state import Book, PhotoChoice, Pick
from wayfold.drawing.text import TextMeasurer
from wayfold.photos.catalogue import Catalogue
from wayfold.photos.look import Face, Look, Salience, Shares, Tone
from wayfold.photos.model import Camera, CaptureTime, Photo, SizePx
from wayfold.plan.model import Plan
from wayfold.project.files import BookFolder
from wayfold.story.model import Story
from wayfold.words.model import Words
from wayfold.words.write import write_words

SHAPES = ((6000, 4000),) * 8 + ((4000, 6000),) * 4 + ((5333, 4000),) * 2 + ((4000, 4000),)
WIDE = (9600, 4000)
GRID = 24
SENTENCES = (
    "The ferry an hour late, and nobody minding. Light on wet stones, bread from the corner shop, "
    "steps down to the harbour where nets dry; our table by the wall, wind all afternoon, a dog "
    "asleep in the only shade, laundry between two towers, the last tram of the evening."
)


@dataclass(frozen=True, slots=True)
class Invented:
    """All that the layout stage is given, but for the measurer."""

    book: Book
    story: Story
    plan: Plan
    words: Words
    photos: dict[str, Photo]


def invent_book(folder: BookFolder, measurer: TextMeasurer, count: int) -> Invented:
    """Take ``count`` invented pictures as far as the layout; the plan is kept in ``folder``."""
    made = [invent_photo(number, count) for number in range(count)]
    photos = {photo.id: photo for photo in made}
    choices = {photo.id: _choose(number) for number, photo in enumerate(made)}
    book = Book("A Measured Journey", author="Nobody", choices=choices)
    told = derive_story(folder, book, Catalogue(tuple(made)), measurer)
    journey, story = told.journey, told.story
    plan = keep_or_plan(folder, story, book).plan
    words = write_words(book, story, plan, photos, journey)
    return Invented(book, story, plan, words, photos)


def invent_photo(number: int, count: int) -> Photo:
    """Give picture ``number`` of ``count``: a record, and no file."""
    chance = random.Random(number)
    day, share = divmod(number * DAYS / count, 1.0)
    taken = FIRST_DAY + timedelta(days=day, hours=9.0 + 10.0 * share + chance.uniform(0.0, 0.4))
    if 61 <= number % 100 <= 65:  # one scene as it went on
        taken = _first_of_scene(number, count) + timedelta(seconds=4 * (number % 100 - 61))
    shape = SHAPES[0] if 61 <= number % 100 <= 65 else chance.choice(SHAPES)
    if number % 50 in (30, 31):
        shape = WIDE
    south, west = TOWNS[number * len(TOWNS) // count]
    name = f"P{1000 + number}"
    return Photo(
        id=name,
        content=f"{number:016x}",
        path=str(Path("/photographs") / f"{name}.JPG"),
        size=SizePx(*shape),
        taken=CaptureTime(taken, 60),
        place=LonLat(west + chance.uniform(-0.01, 0.01), south + chance.uniform(-0.01, 0.01)),
        camera=Camera("Measure", "M1"),
        rating=chance.choice((None, None, 3, 4, 5)),
        look=_invent_look(chance, number),
    )


def _first_of_scene(number: int, count: int) -> datetime:
    day, share = divmod((number // 100 * 100 + 61) * DAYS / count, 1.0)
    return FIRST_DAY + timedelta(days=day, hours=9.0 + 10.0 * share)


def _invent_look(chance: random.Random, number: int) -> Look:
    at = np.random.default_rng(number)
    shares = at.gamma(0.4, size=GRID * GRID)
    shares /= shares.sum()
    faces = tuple(
        Face(Rect(chance.uniform(0.1, 0.8), chance.uniform(0.1, 0.6), 0.09, 0.13), 0.9)
        for _ in range(chance.choice((0, 0, 0, 1, 2)))
    )
    tones = tuple(
        Tone(0.2, chance.random(), chance.uniform(-0.1, 0.1), chance.uniform(-0.1, 0.1))
        for _ in range(5)
    )
    salience = Salience(GRID, GRID, Shares.of(shares))
    return Look(faces, salience, tones, 1.4, 0.5, 2000, 0.0, 55.0, f"{number:016x}")


def _choose(number: int) -> PhotoChoice:
    chance = random.Random(f"words {number}")
    words = chance.choices(SENTENCES.split(), k=chance.choice((0, 4, 8, 14, 22)))
    pick = Pick.HERO if number % 40 == 6 else Pick.TAKE
    return PhotoChoice(pick, caption=" ".join(words) or None, alone=number % 100 == 3)
