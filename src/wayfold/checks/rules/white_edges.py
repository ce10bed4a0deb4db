"""Pages without bleed reach over what the printer can print, and stay white there."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding
from wayfold.checks.subject import Subject
from wayfold.press.bed import find_hidden_edges


def find_white_edges(subject: Subject) -> Iterator[Finding]:
    """Name the edges that a book without bleed loses; with bleed the press refuses the sheet."""
    book = subject.book
    if subject.sheets and book.bleed == 0:
        yield from find_hidden_edges(book.trim, book.bleed, book.paper, book.printer)
