"""Misspelt places told from other words: found slips, and false alarms over open word lists.

``python -m benchmarks.spellings LIST…`` takes word lists, one word a line, as Debian's packages of
words have them (wbritish, wngerman, wfrench, witalian, wspanish). A trip is nine towns of the
gazetteer of 5,000 people or more within 300 km of the first. Found: each of its names with one slip
made at random, within a sentence. False alarms: words of the list that begin with a capital (names,
in German all nouns), each within a sentence, held against the trip.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from pathlib import Path

from wayfold.checks.place_names import KnownNames, fold_letters, spell_out
from wayfold.checks.rules.place_spelling import is_town
from wayfold.trip.earth import distance_m
from wayfold.trip.gazetteer import Gazetteer, Town, load_gazetteer
from wayfold.trip.town_names import TownNames

TRIPS, TOWNS = 60, 9
WORDS = 2000
REACH_M = 300_000.0
LEAST = 5_000
COUNTRIES = {"british-english": "GB", "ngerman": "DE", "italian": "IT"}


def draw_trip(rng: random.Random, towns: list[Town]) -> list[Town]:
    """Give nine of ``towns`` near to each other, or fewer where there are none."""
    first = rng.choice(towns)
    near = {t.name: t for t in towns if distance_m(first.place, t.place) <= REACH_M}
    return rng.sample(list(near.values()), min(TOWNS, len(near)))


def make_slips(name: str, rng: random.Random) -> dict[str, str]:
    """Give ways a hurried hand writes a name, where they differ from it."""
    at = rng.randrange(1, len(name) - 1)
    letters = "abcdefghilmnoprstuvz"
    slips = {
        "accents lost": "".join(
            plain if (plain := fold_letters(c)) and c.islower() else c for c in name
        ),
        "ae for ä": name[0] + spell_out(name)[1:] if spell_out(name) != fold_letters(name) else "",
        "letter dropped": name[:at] + name[at + 1 :],
        "letter doubled": name[:at] + name[at] + name[at:],
        "letters swapped": name[:at] + name[at + 1] + name[at] + name[at + 2 :],
        "letter changed": name[:at] + rng.choice(letters) + name[at + 1 :],
    }
    return {kind: slip for kind, slip in slips.items() if slip and slip.lower() != name.lower()}


def judge(known: KnownNames, names: TownNames, trip: list[Town], spelling: str) -> str | None:
    """Give the name that is proposed for a spelling in the middle of a sentence."""
    places = [town.place for town in trip]
    for found in known.list_spellings(f"and {spelling} and"):
        right = known.find_lost_accents(found.text)
        if right is None and (right := known.find_near_miss(found.text)):
            right = None if is_town(names, found.text, places) else right
        if right:
            return right
    return None


def measure(path: Path, gazetteer: Gazetteer, names: TownNames) -> dict[str, str]:
    rng = random.Random(1)
    towns = [
        town
        for town in (gazetteer.town(n) for n in range(len(gazetteer)))
        if town.country == COUNTRIES[path.name] and town.population >= LEAST
    ]
    listed = path.read_text("utf-8").split()
    words = sorted(w for w in listed if w[0].isupper() and w.isalpha())
    made: Counter[str] = Counter()
    found: Counter[str] = Counter()
    tried = 0
    alarms: list[str] = []
    for _ in range(TRIPS):
        trip = draw_trip(rng, towns)
        known = KnownNames(town.name for town in trip)
        for town in trip:
            if len(town.name) < 5 or not town.name.isalpha():
                continue
            for kind, slip in make_slips(town.name, rng).items():
                made[kind] += 1
                found[kind] += judge(known, names, trip, slip) == town.name
        for word in rng.sample(words, min(WORDS, len(words))):
            tried += 1
            if (right := judge(known, names, trip, word)) is not None:
                alarms.append(f"{word} ({right})")
    rows = {f"found, {k}": f"{found[k] / made[k]:.2f} of {made[k]}" for k in sorted(made)}
    rows["false alarms in 1,000 capitalised words"] = f"{1000 * len(alarms) / tried:.2f}"
    rows["such as"] = ", ".join(alarms[:6])
    return rows


if __name__ == "__main__":
    world = load_gazetteer()
    for argument in sys.argv[1:]:
        print(f"\n{Path(argument).name}")
        for what, value in measure(Path(argument), world, TownNames(world)).items():
            print(f"| {what} | {value} |")
