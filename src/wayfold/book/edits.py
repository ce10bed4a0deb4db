"""Edits as values: ``apply_edit(book, edit)`` gives the book after it and touches nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from wayfold.base.geometry import Rect
from wayfold.book.planning import PlanChoice
from wayfold.book.state import Book, PhotoChoice, Pick


@dataclass(frozen=True, slots=True)
class SetCaption:
    """Give a photograph a caption; None returns to the one in its file."""

    photo: str
    caption: str | None


@dataclass(frozen=True, slots=True)
class SetPick:
    """Take or leave a photograph, or make it a hero."""

    photo: str
    pick: Pick


@dataclass(frozen=True, slots=True)
class SetCrop:
    """Show only part of a photograph (fractions of the upright picture); None shows all."""

    photo: str
    crop: Rect | None


@dataclass(frozen=True, slots=True)
class ChoosePlan:
    """Take another of the plans on offer."""

    choice: PlanChoice


@dataclass(frozen=True, slots=True)
class SetText:
    """Write one of the book's texts (Markdown)."""

    key: str
    text: str


T = TypeVar("T")

Edit = SetCaption | SetPick | SetCrop | ChoosePlan | SetText


def apply_edit(book: Book, edit: Edit) -> Book:
    """Give the book after ``edit``."""
    match edit:
        case SetCaption(photo, caption):
            return _with_choice(book, photo, replace(book.choice(photo), caption=caption))
        case SetPick(photo, pick):
            return _with_choice(book, photo, replace(book.choice(photo), pick=pick))
        case SetCrop(photo, crop):
            return _with_choice(book, photo, replace(book.choice(photo), crop=crop))
        case ChoosePlan(choice):
            return replace(book, planning=replace(book.planning, choice=choice))
        case SetText(key, text):
            return replace(book, texts=_with(book.texts, key, text))


def _with_choice(book: Book, photo: str, choice: PhotoChoice) -> Book:
    return replace(book, choices=_with(book.choices, photo, choice))


def _with(mapping: Mapping[str, T], key: str, value: T) -> Mapping[str, T]:
    return {**mapping, key: value}
