"""The book's longer texts, styled for reading."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from wayfold.base.memory import Memory
from wayfold.book.state import Book
from wayfold.drawing.text import Paragraph, Run
from wayfold.words.markdown import TextStyles, set_markdown
from wayfold.words.styles import (
    bare_for_type,
    style_body,
    style_colophon,
    style_note,
    style_title_line,
)
from wayfold.words.terms import Term, say

COLOPHON = "colophon"
FOREWORD = "foreword"


def style_texts(book: Book, memory: Memory | None = None) -> Mapping[str, tuple[Paragraph, ...]]:
    """Give each of the book's texts as styled paragraphs, by its key; empty texts are left out.

    A foreword that brings no heading of its own gets one. Raises UserError naming the file and
    line of what cannot be printed.
    """
    memory = memory or Memory()
    about = bare_for_type(book)
    styled = {
        key: memory.recall(_style_text, about, key, text, at=key)
        for key, text in sorted(book.texts.items())
    }
    return {key: paragraphs for key, paragraphs in styled.items() if paragraphs}


def _style_text(book: Book, key: str, text: str) -> tuple[Paragraph, ...]:
    heading = replace(style_title_line(book), leading_pt=book.style.body.leading_pt)
    body = style_colophon(book) if key == COLOPHON else style_body(book)
    note = None if key == COLOPHON else style_note(book)
    paragraphs = set_markdown(text, TextStyles(body, heading, note), f"texts/{key}.md")
    if key == FOREWORD and paragraphs and not paragraphs[0].style.small_caps:
        title = Paragraph((Run(say(Term.FOREWORD, book.language)),), heading, heads=True)
        air = replace(paragraphs[0].style, space_before_pt=book.style.body.leading_pt)
        return (title, replace(paragraphs[0], style=air), *paragraphs[1:])
    return paragraphs
