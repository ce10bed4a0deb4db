"""Dates are written in more than one form."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from wayfold.base.findings import Finding, Severity
from wayfold.checks.rewording import offer
from wayfold.checks.subject import Subject
from wayfold.checks.writings import Role, Writing, list_writings, quote
from wayfold.checks.written_dates import LEAP, WrittenDate, find_dates
from wayfold.words.dates import write_date, write_dates, write_day_month

RULE = "date-style"
MOST = 3
"""So many dates of one place are named; the rest are counted."""


def find_other_dates(subject: Subject) -> Iterator[Finding]:
    """Name, once for each place, the dates not written as the book writes its own."""
    language, near = subject.book.language, _middle(subject)
    found: dict[tuple[str, str], dict[str, str]] = {}
    passages: dict[tuple[str, str], list[tuple[Writing, str, str | None]]] = {}
    for writing in list_writings(subject):
        # Credits give dates as their authors do.
        for written in (
            () if writing.role is Role.COLOPHON else find_dates(writing.text, language, near)
        ):
            form = write_as_book(written, language)
            if _spaced(written.text) != _spaced(form):
                place = (writing.where, writing.what)
                found.setdefault(place, {})[quote(written.text)] = form
                mended = (writing, written.text, form if written.sure else None)
                passages.setdefault(place, []).append(mended)
    for (where, what), dates in found.items():
        shown = [f"{text} (the book's: {quote(form)})" for text, form in list(dates.items())[:MOST]]
        more = f" and {len(dates) - MOST} more" if len(dates) > MOST else ""
        yield Finding(
            RULE,
            Severity.WARN,
            where,
            f"The {what} has dates in another form than the book's: {', '.join(shown)}{more}.",
            "Write them as the book does.",
            rewordings=offer(subject, passages[where, what]),
        )


def write_as_book(written: WrittenDate, language: str) -> str:
    """Give a date in the book's form, with a year only where one is written."""
    first = date(written.year or LEAP, written.month, written.day)
    if written.last:
        span = write_dates(first, first.replace(day=written.last), language)
        return span if written.year else span.removesuffix(str(LEAP)).removesuffix(" de ").rstrip()
    return write_date(first, language) if written.year else write_day_month(first, language)


def _spaced(text: str) -> str:
    return " ".join(text.split())


def _middle(subject: Subject) -> date | None:
    days = [c.first for c in subject.story.chapters if c.first] if subject.story else []
    return sorted(days)[len(days) // 2] if days else None
