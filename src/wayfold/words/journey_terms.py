"""The words of the itinerary, in the languages the book can be set in."""

from __future__ import annotations

import enum

from wayfold.book.trip_choices import Mode


class JourneyTerm(enum.StrEnum):
    """A word of the itinerary's own."""

    TITLE = "title"
    DAY = "day"
    PLACE = "place"
    WAY = "way"
    NIGHT = "night"
    NOTES = "notes"
    PAGE = "page"
    ABOARD = "aboard"
    ONE_NIGHT = "one night"
    NIGHTS = "nights"
    ONE_DAY = "one day"
    DAYS = "days"


_EN = {
    JourneyTerm.TITLE: "The Journey",
    JourneyTerm.DAY: "Day",
    JourneyTerm.PLACE: "Place",
    JourneyTerm.WAY: "Way",
    JourneyTerm.NIGHT: "Night",
    JourneyTerm.NOTES: "Notes",
    JourneyTerm.PAGE: "Page",
    JourneyTerm.ABOARD: "on the way",
    JourneyTerm.ONE_NIGHT: "1 night",
    JourneyTerm.NIGHTS: "{n} nights",
    JourneyTerm.ONE_DAY: "1 day",
    JourneyTerm.DAYS: "{n} days",
}
_DE = {
    JourneyTerm.TITLE: "Die Reise",
    JourneyTerm.DAY: "Tag",
    JourneyTerm.PLACE: "Ort",
    JourneyTerm.WAY: "Weg",
    JourneyTerm.NIGHT: "Nacht",
    JourneyTerm.NOTES: "Notizen",
    JourneyTerm.PAGE: "Seite",
    JourneyTerm.ABOARD: "unterwegs",
    JourneyTerm.ONE_NIGHT: "1 Nacht",
    JourneyTerm.NIGHTS: "{n} Nächte",
    JourneyTerm.ONE_DAY: "1 Tag",
    JourneyTerm.DAYS: "{n} Tage",
}
_FR = {
    JourneyTerm.TITLE: "Le voyage",
    JourneyTerm.DAY: "Jour",
    JourneyTerm.PLACE: "Lieu",
    JourneyTerm.WAY: "Trajet",
    JourneyTerm.NIGHT: "Nuit",
    JourneyTerm.NOTES: "Notes",
    JourneyTerm.PAGE: "Page",
    JourneyTerm.ABOARD: "en route",
    JourneyTerm.ONE_NIGHT: "1 nuit",
    JourneyTerm.NIGHTS: "{n} nuits",
    JourneyTerm.ONE_DAY: "1 jour",
    JourneyTerm.DAYS: "{n} jours",
}
_IT = {
    JourneyTerm.TITLE: "Il viaggio",
    JourneyTerm.DAY: "Giorno",
    JourneyTerm.PLACE: "Luogo",
    JourneyTerm.WAY: "Tragitto",
    JourneyTerm.NIGHT: "Notte",
    JourneyTerm.NOTES: "Note",
    JourneyTerm.PAGE: "Pagina",
    JourneyTerm.ABOARD: "in viaggio",
    JourneyTerm.ONE_NIGHT: "1 notte",
    JourneyTerm.NIGHTS: "{n} notti",
    JourneyTerm.ONE_DAY: "1 giorno",
    JourneyTerm.DAYS: "{n} giorni",
}
_ES = {
    JourneyTerm.TITLE: "El viaje",
    JourneyTerm.DAY: "Día",
    JourneyTerm.PLACE: "Lugar",
    JourneyTerm.WAY: "Trayecto",
    JourneyTerm.NIGHT: "Noche",
    JourneyTerm.NOTES: "Notas",
    JourneyTerm.PAGE: "Página",
    JourneyTerm.ABOARD: "en camino",
    JourneyTerm.ONE_NIGHT: "1 noche",
    JourneyTerm.NIGHTS: "{n} noches",
    JourneyTerm.ONE_DAY: "1 día",
    JourneyTerm.DAYS: "{n} días",
}
_LANGUAGES = {"en": _EN, "de": _DE, "fr": _FR, "it": _IT, "es": _ES}
_MODES = {
    "en": ("Flight", "Train", "By road", "Boat", "On foot"),
    "de": ("Flug", "Zug", "Straße", "Schiff", "Zu Fuß"),
    "fr": ("Avion", "Train", "Par la route", "Bateau", "À pied"),
    "it": ("Volo", "Treno", "Su strada", "Nave", "A piedi"),
    "es": ("Vuelo", "Tren", "Por carretera", "Barco", "A pie"),
}
_WEEKDAYS = {
    "en": ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"),
    "de": ("Mo", "Di", "Mi", "Do", "Fr", "Sa", "So"),
    "fr": ("lun.", "mar.", "mer.", "jeu.", "ven.", "sam.", "dim."),
    "it": ("lun", "mar", "mer", "gio", "ven", "sab", "dom"),
    "es": ("lun", "mar", "mié", "jue", "vie", "sáb", "dom"),
}
"""Abbreviated names that stand alone, of the Unicode CLDR."""


def say_journey(term: JourneyTerm, language: str) -> str:
    """Give a term in ``language``, in English where it is not known."""
    return _LANGUAGES.get(_primary(language), _EN)[term]


def say_mode(mode: Mode, language: str) -> str:
    """Give how one travelled."""
    words = _MODES.get(_primary(language), _MODES["en"])
    return words[(Mode.FLIGHT, Mode.TRAIN, Mode.ROAD, Mode.BOAT, Mode.FOOT).index(mode)]


def say_weekday(weekday: int, language: str) -> str:
    """Give the short name of a day of the week, counted from 0 on Monday."""
    return _WEEKDAYS.get(_primary(language), _WEEKDAYS["en"])[weekday]


def _primary(language: str) -> str:
    return language.replace("_", "-").split("-")[0].lower()
