"""What a book's style would not do well on paper: its fonts, its colours, its lines."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.base.units import pt_from_mm
from wayfold.book.state import Book
from wayfold.drawing.colour import WHITE
from wayfold.drawing.contrast import READABLE, contrast, luminance
from wayfold.layout.grid import make_grid
from wayfold.project.files import BookFolder
from wayfold.typeset.fonts import FontLibrary, read_alphabet
from wayfold.typeset.own_fonts import judge_own_fonts

FEWEST_LETTERS, MOST_LETTERS = 45, 75
"""Of a line of text: R. Bringhurst, The Elements of Typographic Style, ch. 2."""
LETTERS_PER_ALPHABET = 27.5
"""Letters that stand in the width of an alphabet. Fitted to Bringhurst’s table of copyfitting, by
which an alphabet of 130 pt sets about 66 letters in 26 picas."""


def doubt_style(book: Book, folder: BookFolder, library: FontLibrary) -> tuple[Finding, ...]:
    """Give all doubts about a book's style and its own fonts."""
    style = book.style
    fonts = judge_own_fonts(
        folder.fonts, library, style.serif, style.sans, book.language, folder.name_of
    )
    return (*fonts, *_doubt_colours(book), *_doubt_measure(book, library))


def count_letters(measure: float, size_pt: float, alphabet_em: float) -> float:
    """Give the mean number of letters, spaces included, in a line of ``measure`` mm."""
    return pt_from_mm(measure) * LETTERS_PER_ALPHABET / (alphabet_em * size_pt)


def _doubt_colours(book: Book) -> Iterator[Finding]:
    for key in ("ink", "quiet_ink"):  # a faint accent is darkened where it is used
        found = contrast(luminance(getattr(book.style, key)), luminance(WHITE))
        if found < READABLE:
            yield Finding(
                "style",
                Severity.WARN,
                f"style {book.style.name}, {key}",
                f"Its contrast on white paper is {found:.1f}; small text wants {READABLE:g}.",
                "Take a darker colour.",
            )


def _doubt_measure(book: Book, library: FontLibrary) -> Iterator[Finding]:
    size_pt = book.style.body.size_pt
    measure = make_grid(book).measure
    alphabet = read_alphabet(library.find_face(book.style.serif, italic=False, weight=400).path)
    if not alphabet:
        return
    letters = count_letters(measure, size_pt, alphabet)
    if not FEWEST_LETTERS <= letters <= MOST_LETTERS:
        best = 66 * measure / letters
        yield Finding(
            "style",
            Severity.WARN,
            f"style {book.style.name}, text_measure_mm",
            f"A line of text has about {letters:.0f} letters; {FEWEST_LETTERS} to {MOST_LETTERS} "
            "read well.",
            f"{best:.0f} mm would have 66 at this size.",
        )
