"""Headings of different levels, which print alike, and headings that say nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from wayfold.base.findings import Finding, Rewording, Severity
from wayfold.checks.rewording import offer
from wayfold.checks.subject import Subject
from wayfold.checks.writings import Role, Writing, quote
from wayfold.trip.town_names import fold_name
from wayfold.words.punctuation import make_reader

RULE = "heading-levels"


@dataclass(frozen=True, slots=True)
class _Heading:
    text: str
    level: int
    line: int
    first: bool
    last: bool


def find_odd_headings(subject: Subject) -> Iterator[Finding]:
    """Name headings of a rarer level, those with nothing below, and titles said again.

    The book has one kind of heading (small capitals), so levels cannot be told in print.
    """
    language = subject.book.language
    headings = {key: _read(text, language) for key, text in sorted(subject.book.texts.items())}
    levels = Counter(h.level for found in headings.values() for h in found)
    usual = max(levels, key=lambda level: (levels[level], -level)) if levels else 0
    titles = _list_titles(subject)
    for key, found in headings.items():
        for heading in found:
            where = f"texts/{key}.md"
            named = f"{quote(heading.text)} (line {heading.line})"
            if heading.level != usual:
                words = Writing(where, "text", heading.text, Role.TEXT, source=f"text:{key}")
                marked = [f"{'#' * level} {heading.text}" for level in (heading.level, usual)]
                yield _tell(
                    where,
                    f"The heading {named} is of level {heading.level}, most are of level {usual}; "
                    "both print alike.",
                    f"Begin it with {'#' * usual}.",
                    offer(subject, [(words, marked[0], marked[1])]),
                )
            if heading.last:
                yield _tell(
                    where,
                    f"Nothing stands below the heading {named}.",
                    "Write what it heads, or take it out.",
                )
            if heading.first and fold_name(heading.text) == titles.get(key):
                yield _tell(
                    where,
                    f"The text begins with {named}, which the chapter's title has just said.",
                    "Take the heading out.",
                )


def _list_titles(subject: Subject) -> dict[str, str]:
    """Give the folded title of the chapter that each text tells."""
    if subject.story is None:
        return {}
    return {
        block.text: fold_name(subject.story.chapters[block.chapter].title)
        for block in subject.story.blocks
        if block.text and block.chapter is not None
    }


def _read(text: str, language: str) -> list[_Heading]:
    tokens = make_reader(language).parse(text)
    # A block's opening and its words come one after the other.
    blocks = [t for t in tokens if t.nesting >= 0 and t.type != "inline" and t.level == 0]
    headings = []
    for number, block in enumerate(blocks):
        if block.type == "heading_open" and block.map:
            words = tokens[tokens.index(block) + 1].content
            after = blocks[number + 1 :]
            headings.append(
                _Heading(
                    words, int(block.tag[1:]), block.map[0] + 1, number == 0,
                    not after or after[0].type == "heading_open",
                )
            )  # fmt: skip
    return headings


def _tell(where: str, message: str, remedy: str, rewordings: tuple[Rewording, ...] = ()) -> Finding:
    return Finding(RULE, Severity.WARN, where, message, remedy, rewordings=rewordings)
