"""A place of the journey is spelt otherwise here than in the rest of the book."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wayfold.base.findings import Finding, Rewording, Severity
from wayfold.base.mends import Mend
from wayfold.base.world import LonLat
from wayfold.checks.place_names import KnownNames, list_unlike, without_possessive
from wayfold.checks.rewording import offer
from wayfold.checks.subject import Subject
from wayfold.checks.writings import Role, Writing, list_writings, quote
from wayfold.trip.earth import distance_m
from wayfold.trip.town_names import NameFinder

RULE = "place-spelling"
NEAR_M = 300_000.0
"""A town that bears the very name, this near to the journey, is meant itself."""
GREAT_TOWN = 100_000
"""And so is one of so many people, wherever it lies."""


def find_odd_spellings(subject: Subject) -> Iterator[Finding]:
    """Name each spelling that loses the accents of a known place or misses it by a letter.

    Known are the places of the journey with their countries, as table, maps and chapters have
    them, and what the person named on maps. Two spellings of one name within the texts that
    differ in accents are named too. A word that opens a sentence, that the texts also have in
    small letters, that belongs to a longer name or is a town itself is no near miss.
    """
    names = list(_list_names(subject))
    known = KnownNames(names)
    writings = [w for w in list_writings(subject) if w.role is not Role.COLOPHON]
    small = {word for w in writings for word in w.text.split() if word.islower()}
    places = [stay.place for stay in subject.journey.stays] if subject.journey else []
    inside: dict[str, Writing] = {}
    told: set[tuple[str, str, str]] = set()
    for writing in writings:
        for spelling in known.list_spellings(writing.text):
            text = spelling.text
            right = bare = known.find_lost_accents(text)
            if right is None and not spelling.opens:
                inside.setdefault(text, writing)
                right = known.find_near_miss(text)
                # Next to another capital it is a part of some longer name: Casa Milà, not Milan.
                longer = any(word.lower() not in small for word in spelling.beside)
                plain = text.lower() in small
                if right and (longer or plain or is_town(subject.towns, text, places)):
                    right = None
            place = (writing.where, writing.what, text)
            if right and place not in told:
                told.add(place)
                # A letter that is missed may mean another place; accents never do.
                passages = [(writing, without_possessive(text), bare)]
                mended = offer(subject, passages)
                yield _tell(writing, text, right, "the journey has", mended)
    for usual, odd in list_unlike(inside):
        if known.find_lost_accents(odd) is None and known.find_lost_accents(usual) is None:
            yield _tell(inside[odd], odd, usual, f"{inside[usual].where} has", ())


def _list_names(subject: Subject) -> Iterator[str]:
    for stay in subject.journey.stays if subject.journey else ():
        yield from (stay.name, stay.country_name)
    for chapter in subject.story.chapters if subject.story else ():
        yield from (chapter.place, chapter.country_name)
    for place in subject.book.journey.places:
        yield from (place.town, place.name)


def is_town(towns: NameFinder, name: str, places: Sequence[LonLat]) -> bool:
    """Whether a name is that of another town, near to ``places`` or great."""
    return any(
        town.population >= GREAT_TOWN
        or any(distance_m(town.place, place) <= NEAR_M for place in places)
        for town in towns.named(name)
    )


def _tell(
    writing: Writing, text: str, right: str, who: str, rewordings: tuple[Rewording, ...]
) -> Finding:
    return Finding(
        RULE,
        Severity.WARN,
        writing.where,
        f"The {writing.what} has {quote(text)}; {who} {quote(right)}.",
        f"Spell it one way throughout. What a place is called: {Mend.STOPS}.",
        rewordings=rewordings,
    )
