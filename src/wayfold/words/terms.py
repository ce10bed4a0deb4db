"""The few words the book says by itself, in the languages it can be set in."""

from __future__ import annotations

import enum


class Term(enum.StrEnum):
    """A word or phrase of the book's own."""

    CONTENTS = "contents"
    FOREWORD = "foreword"
    DAY = "day"
    ABOVE = "above"
    BELOW = "below"
    LEFT = "left"
    RIGHT = "right"
    CENTRE = "centre"
    ABOVE_LEFT = "above left"
    ABOVE_RIGHT = "above right"
    BELOW_LEFT = "below left"
    BELOW_RIGHT = "below right"
    OPPOSITE = "opposite"
    OVERLEAF = "overleaf"
    PRECEDING = "preceding pages"
    TEXT_AND_PHOTOGRAPHS = "text and photographs"
    TEXT = "text"
    PHOTOGRAPHS = "photographs"
    SET_IN = "set in"
    PRINTED_ON = "printed on"
    LEAVES_ON = "leaves on"
    PRINTER = "printer"
    BOUND = "bound"
    FINISHED = "finished"


_EN = {
    Term.CONTENTS: "Contents",
    Term.FOREWORD: "Foreword",
    Term.DAY: "Day",
    Term.ABOVE: "Top",
    Term.BELOW: "Bottom",
    Term.LEFT: "Left",
    Term.RIGHT: "Right",
    Term.CENTRE: "Centre",
    Term.ABOVE_LEFT: "Top left",
    Term.ABOVE_RIGHT: "Top right",
    Term.BELOW_LEFT: "Bottom left",
    Term.BELOW_RIGHT: "Bottom right",
    Term.OPPOSITE: "Opposite",
    Term.OVERLEAF: "Overleaf",
    Term.PRECEDING: "Preceding pages",
    Term.TEXT_AND_PHOTOGRAPHS: "Text and photographs: {names}.",
    Term.TEXT: "Text: {names}.",
    Term.PHOTOGRAPHS: "Photographs: {names}.",
    Term.SET_IN: "Set in {fonts}.",
    Term.PRINTED_ON: "Printed on {paper}.",
    Term.LEAVES_ON: "Translucent leaves: {paper}.",
    Term.PRINTER: "Printer: {printer}.",
    Term.BOUND: "Folded, sewn and cased in by hand.",
    Term.FINISHED: "Finished on {date}.",
}
_DE = {
    Term.CONTENTS: "Inhalt",
    Term.FOREWORD: "Vorwort",
    Term.DAY: "Tag",
    Term.ABOVE: "Oben",
    Term.BELOW: "Unten",
    Term.LEFT: "Links",
    Term.RIGHT: "Rechts",
    Term.CENTRE: "Mitte",
    Term.ABOVE_LEFT: "Oben links",
    Term.ABOVE_RIGHT: "Oben rechts",
    Term.BELOW_LEFT: "Unten links",
    Term.BELOW_RIGHT: "Unten rechts",
    Term.OPPOSITE: "Gegenüber",
    Term.OVERLEAF: "Umseitig",
    Term.PRECEDING: "Vorige Doppelseite",
    Term.TEXT_AND_PHOTOGRAPHS: "Text und Fotografien: {names}.",
    Term.TEXT: "Text: {names}.",
    Term.PHOTOGRAPHS: "Fotografien: {names}.",
    Term.SET_IN: "Gesetzt aus der {fonts}.",
    Term.PRINTED_ON: "Gedruckt auf {paper}.",
    Term.LEAVES_ON: "Transparente Zwischenblätter: {paper}.",
    Term.PRINTER: "Drucker: {printer}.",
    Term.BOUND: "Von Hand gefalzt, geheftet und in die Decke gehängt.",
    Term.FINISHED: "Fertiggestellt am {date}.",
}
_FR = {
    Term.CONTENTS: "Sommaire",
    Term.FOREWORD: "Avant-propos",
    Term.DAY: "Jour",
    Term.ABOVE: "En haut",
    Term.BELOW: "En bas",
    Term.LEFT: "À gauche",
    Term.RIGHT: "À droite",
    Term.CENTRE: "Au centre",
    Term.ABOVE_LEFT: "En haut à gauche",
    Term.ABOVE_RIGHT: "En haut à droite",
    Term.BELOW_LEFT: "En bas à gauche",
    Term.BELOW_RIGHT: "En bas à droite",
    Term.OPPOSITE: "Page en regard",
    Term.OVERLEAF: "Au verso",
    Term.PRECEDING: "Double page précédente",
    Term.TEXT_AND_PHOTOGRAPHS: "Texte et photographies\N{NO-BREAK SPACE}: {names}.",
    Term.TEXT: "Texte\N{NO-BREAK SPACE}: {names}.",
    Term.PHOTOGRAPHS: "Photographies\N{NO-BREAK SPACE}: {names}.",
    Term.SET_IN: "Composé en {fonts}.",
    Term.PRINTED_ON: "Imprimé sur {paper}.",
    Term.LEAVES_ON: "Feuillets translucides\N{NO-BREAK SPACE}: {paper}.",
    Term.PRINTER: "Imprimante\N{NO-BREAK SPACE}: {printer}.",
    Term.BOUND: "Plié, cousu et emboîté à la main.",
    Term.FINISHED: "Achevé le {date}.",
}
_IT = {
    Term.CONTENTS: "Indice",
    Term.FOREWORD: "Premessa",
    Term.DAY: "Giorno",
    Term.ABOVE: "In alto",
    Term.BELOW: "In basso",
    Term.LEFT: "A sinistra",
    Term.RIGHT: "A destra",
    Term.CENTRE: "Al centro",
    Term.ABOVE_LEFT: "In alto a sinistra",
    Term.ABOVE_RIGHT: "In alto a destra",
    Term.BELOW_LEFT: "In basso a sinistra",
    Term.BELOW_RIGHT: "In basso a destra",
    Term.OPPOSITE: "A fronte",
    Term.OVERLEAF: "A tergo",
    Term.PRECEDING: "Pagine precedenti",
    Term.TEXT_AND_PHOTOGRAPHS: "Testo e fotografie: {names}.",
    Term.TEXT: "Testo: {names}.",
    Term.PHOTOGRAPHS: "Fotografie: {names}.",
    Term.SET_IN: "Composto in {fonts}.",
    Term.PRINTED_ON: "Stampato su {paper}.",
    Term.LEAVES_ON: "Fogli traslucidi: {paper}.",
    Term.PRINTER: "Stampante: {printer}.",
    Term.BOUND: "Piegato, cucito e incassato a mano.",
    Term.FINISHED: "Finito il {date}.",
}
_ES = {
    Term.CONTENTS: "Índice",
    Term.FOREWORD: "Prólogo",
    Term.DAY: "Día",
    Term.ABOVE: "Arriba",
    Term.BELOW: "Abajo",
    Term.LEFT: "Izquierda",
    Term.RIGHT: "Derecha",
    Term.CENTRE: "Centro",
    Term.ABOVE_LEFT: "Arriba a la izquierda",
    Term.ABOVE_RIGHT: "Arriba a la derecha",
    Term.BELOW_LEFT: "Abajo a la izquierda",
    Term.BELOW_RIGHT: "Abajo a la derecha",
    Term.OPPOSITE: "Página opuesta",
    Term.OVERLEAF: "Al dorso",
    Term.PRECEDING: "Páginas anteriores",
    Term.TEXT_AND_PHOTOGRAPHS: "Texto y fotografías: {names}.",
    Term.TEXT: "Texto: {names}.",
    Term.PHOTOGRAPHS: "Fotografías: {names}.",
    Term.SET_IN: "Compuesto en {fonts}.",
    Term.PRINTED_ON: "Impreso en {paper}.",
    Term.LEAVES_ON: "Hojas translúcidas: {paper}.",
    Term.PRINTER: "Impresora: {printer}.",
    Term.BOUND: "Plegado, cosido y encuadernado a mano.",
    Term.FINISHED: "Terminado el {date}.",
}
_ORDINALS = {
    "en": (
        "first",
        "second",
        "third",
        "fourth",
        "fifth",
        "sixth",
        "seventh",
        "eighth",
        "ninth",
    ),
    "de": [
        "erstes",
        "zweites",
        "drittes",
        "viertes",
        "fünftes",
        "sechstes",
        "siebtes",
        "achtes",
        "neuntes",
    ],
    "fr": [
        "première",
        "deuxième",
        "troisième",
        "quatrième",
        "cinquième",
        "sixième",
        "septième",
        "huitième",
        "neuvième",
    ],
    "it": (
        "prima",
        "seconda",
        "terza",
        "quarta",
        "quinta",
        "sesta",
        "settima",
        "ottava",
        "nona",
    ),
    "es": [
        "primera",
        "segunda",
        "tercera",
        "cuarta",
        "quinta",
        "sexta",
        "séptima",
        "octava",
        "novena",
    ],
}
_LANGUAGES = {"en": _EN, "de": _DE, "fr": _FR, "it": _IT, "es": _ES}


def knows_language(language: str) -> bool:
    """Whether the book can say its own words in ``language`` (a BCP 47 code)."""
    return split_primary(language) in _LANGUAGES


def say(term: Term, language: str) -> str:
    """Give a term in ``language``, in English where it is not known."""
    return _LANGUAGES.get(split_primary(language), _EN)[term]


def say_ordinal(index: int, language: str) -> str:
    """Give "First", "Second" … for a picture's place in reading order, counted from 0."""
    words = _ORDINALS.get(split_primary(language), _ORDINALS["en"])
    return words[index].capitalize() if index < len(words) else f"{index + 1}."


def split_primary(language: str) -> str:
    """Give the language of a BCP 47 code without its region: "pt" of "pt-BR"."""
    return language.replace("_", "-").split("-")[0].lower()
