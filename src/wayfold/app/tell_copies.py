"""Other versions of a book's files as the command line tells them, and the choice by number."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from wayfold.app.copies import CopyView, choose_version, list_copies
from wayfold.base.errors import NotFoundError
from wayfold.base.mends import Mend
from wayfold.project.files import BookFolder
from wayfold.project.inside import require_inside
from wayfold.project.journal import Journal


def open_copies(root: Path) -> tuple[CopyView, ...]:
    """Give all other versions in the book at ``root``, and note them in its history."""
    folder = _open(root)
    return list_copies(folder)


def choose_by_number(root: Path, number: int, *, take: bool) -> str:
    """Choose by the ``number`` in the list, and say what was done. Raises NotFoundError."""
    folder = _open(root)
    copies = list_copies(folder)
    if number > len(copies):
        raise NotFoundError(
            f"There is no other version {number}.", remedy=f"List those there are: {Mend.COPIES}."
        )
    copy = copies[number - 1]
    choose_version(folder, copy.handle, take=take)
    done = f"{copy.name} was taken for {copy.of}" if take else f"{copy.of} stays; {copy.name} is"
    rest = "what stood there is kept in history" if take else "put away and kept in history"
    return f"{done}{'; ' if take else ' '}{rest}."


def tell_copies(copies: tuple[CopyView, ...]) -> Iterator[str]:
    """Say the other versions and what differs, in lines of words."""
    if not copies:
        yield "There are no other versions of the book's files."
    for number, copy in enumerate(copies, start=1):
        yield f"{number}  {copy.name}, of {copy.other_time.replace('T', ' ')}"
        if copy.our_time:
            yield f"   another version of {copy.of}, of {copy.our_time.replace('T', ' ')}"
        else:
            yield f"   {copy.of} itself is not there"
        if copy.trouble:
            yield f"   Not both can be read: {copy.trouble}"
        differing = [row for row in copy.rows if not row.same]
        if not differing:
            yield "   Both say the same."
        for row in differing:
            yield f"   {row.where}".rstrip()
            yield from _tell_side("ours ", row.ours)
            yield from _tell_side("other", row.other)
    if copies:
        yield ""
        yield f"To take one: {Mend.COPIES} BOOK --take 1"
        yield f"To stay with ours: {Mend.COPIES} BOOK --put-away 1"


def _tell_side(side: str, words: str) -> Iterator[str]:
    for line in words.splitlines() or ["–"]:
        yield f"     {side}  {line}"


def describe_copies(copies: tuple[CopyView, ...]) -> dict[str, Any]:
    """Give the other versions as plain values."""
    return {"copies": [dataclasses.asdict(copy) for copy in copies]}


def _open(root: Path) -> BookFolder:
    folder = BookFolder(root.resolve())
    folder.require()
    require_inside(folder)
    Journal(folder).catch_up()
    return folder
