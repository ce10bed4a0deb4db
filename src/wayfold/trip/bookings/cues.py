"""The words by which calendars tell a flight, a train, a boat, a drive, a walk and a lodging.

In the book's five languages; matched as whole words, accents and capitals aside. Own list, from
everyday use.
"""

from __future__ import annotations

import re
from functools import lru_cache

from wayfold.book.trip_choices import Mode
from wayfold.trip.town_names import fold_name

_MODES: dict[Mode, str] = {
    Mode.FLIGHT: "flight|fly|flug|fliegen|vol|vuelo|volo",
    Mode.TRAIN: "train|rail|railway|zug|bahn|tgv|tren|treno|sleeper|nachtzug",
    Mode.BOAT: "ferry|boat|ship|cruise|fahre|schiff|boot|bac|bateau|traversier|barco|transbordador|"
    "traghetto|nave|battello",
    Mode.ROAD: "bus|coach|car|drive|taxi|auto|wagen|fahrt|reisebus|voiture|autocar|coche|autobus|"
    "macchina|corriera|pullman",
    Mode.FOOT: "walk|hike|trek|wanderung|zu fuss|randonnee|marche|a pied|caminata|senderismo|a pie|"
    "camminata|escursione|a piedi",
}
_LODGING = (
    "hotel|hostel|inn|guest house|guesthouse|pension|lodging|accommodation|check in|checkin|stay|"
    "apartment|campsite|camping|cottage|cabin|lodge|refuge|unterkunft|ferienwohnung|gasthof|"
    "gasthaus|herberge|jugendherberge|hutte|zeltplatz|hebergement|auberge|gite|chambre|logement|"
    "alojamiento|hostal|albergue|apartamento|posada|parador|alloggio|albergo|ostello|agriturismo|"
    "rifugio|locanda|appartamento"
)


def _compile(words: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{words})\b")


MANY = 256
"""Texts whose meaning is kept: those of a repeated event are the same hundreds of times."""
_MODE_CUES = {mode: _compile(words) for mode, words in _MODES.items()}
_LODGING_CUE = _compile(_LODGING)


@lru_cache(MANY)
def find_mode(*texts: str) -> Mode | None:
    """Give the mode that the first telling text speaks of; the word that comes first decides."""
    for text in texts:
        folded = fold_name(text)
        found = [
            (match.start(), mode)
            for mode, cue in _MODE_CUES.items()
            if (match := cue.search(folded))
        ]
        if found:
            return min(found, key=lambda f: f[0])[1]
    return None


@lru_cache(MANY)
def speaks_of_lodging(*texts: str) -> bool:
    """Whether any of the texts names a kind of lodging."""
    return any(_LODGING_CUE.search(fold_name(text)) for text in texts)
