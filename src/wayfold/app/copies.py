"""Other versions of the book's files, set side by side with ours, and the choice between them."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from wayfold.base.findings import Finding, Severity
from wayfold.base.mends import Mend
from wayfold.project.choosing_copies import put_copy_away, take_copy
from wayfold.project.copies import OtherVersion, find_copies
from wayfold.project.files import BookFolder
from wayfold.project.inside import require_inside
from wayfold.project.journal_notes import Entry

NAMED_BY = ("place", "town", "block", "from", "photo", "date", "label", "id", "name", "item")
"""Keys by which a row of tables is called, the first that it has."""
LONGEST = 600
"""Signs of a value that are shown."""

Key = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Difference:
    """A place in both versions: what ours says there and what the other does; "" where nothing.

    ``same`` places are given of texts only, so that they read on.
    """

    where: str
    ours: str
    other: str
    same: bool = False


@dataclass(frozen=True, slots=True)
class CopyView:
    """Another version of the file ``of``, found as ``name``.

    ``our_time`` and ``other_time`` say when each was written (ISO 8601, local), "" where it is not
    there. ``is_text`` tells whether the rows are paragraphs of a text or places in tables.
    ``trouble`` says why the two could only be compared line by line.
    """

    handle: str
    name: str
    of: str
    our_time: str
    other_time: str
    is_text: bool
    trouble: str
    rows: tuple[Difference, ...]


def list_copies(folder: BookFolder) -> tuple[CopyView, ...]:
    """Give all other versions, compared with ours. Raises UserError for a link out of the book."""
    require_inside(folder)
    return tuple(_view(folder, copy) for copy in find_copies(folder))


def choose_version(folder: BookFolder, handle: str, *, take: bool) -> Entry | None:
    """Take the other version in place of ours, or put it away; give the change.

    Raises NotFoundError where it is gone, or one of the two has changed since it was shown;
    UserError for a link out of the book.
    """
    require_inside(folder)
    return (take_copy if take else put_copy_away)(folder, handle)


def find_unchosen(folder: BookFolder) -> tuple[Finding, ...]:
    """Tell of the other versions, as findings."""
    return tuple(
        Finding(
            rule="copies",
            severity=Severity.WARN,
            where=folder.name_of(copy.path),
            message=f"This is another version of {folder.name_of(copy.of)}, as two machines make "
            "them that change one file. The book is made from "
            f"{folder.name_of(copy.of)} alone.",
            remedy=f"Look at both, and choose: {Mend.COPIES}.",
        )
        for copy in find_copies(folder)
    )


def _view(folder: BookFolder, copy: OtherVersion) -> CopyView:
    ours = copy.ours or b""
    is_text, trouble = copy.of.suffix == ".md", ""
    if is_text:
        rows = tuple(_compare_texts(ours, copy.content, "\n\n"))
    else:
        try:
            rows = tuple(_compare_tables(_read(copy.of, ours), _read(copy.path, copy.content)))
        except ValueError as error:
            trouble = str(error)
            found = _compare_texts(ours, copy.content, "\n")
            rows = tuple(row for row in found if not row.same)
    return CopyView(
        handle=copy.handle,
        name=folder.name_of(copy.path),
        of=folder.name_of(copy.of),
        our_time=_tell_time(copy.of),
        other_time=_tell_time(copy.path),
        is_text=is_text,
        trouble=trouble,
        rows=rows,
    )


def _tell_time(path: Path) -> str:
    try:
        written = path.stat().st_mtime
    except OSError:
        return ""
    return datetime.fromtimestamp(written).isoformat(timespec="minutes")


def _read(path: Path, content: bytes) -> dict[str, Any]:
    """Read a table file. Raises ValueError, naming the file."""
    try:
        return tomllib.loads(content.decode().replace("\r\n", "\n"))
    except ValueError as error:
        raise ValueError(f"{path.name}: {error}") from error


def _compare_texts(ours: bytes, other: bytes, between: str) -> Iterator[Difference]:
    """Give the pieces of two texts in their order, those that are the same marked."""
    mine, theirs = (
        [piece for piece in data.decode(errors="replace").split(between) if piece.strip()]
        for data in (ours, other)
    )
    matcher = difflib.SequenceMatcher(None, mine, theirs, autojunk=False)
    for tag, start, end, first, last in matcher.get_opcodes():
        left, right = mine[start:end], theirs[first:last]
        for at in range(max(len(left), len(right))):
            one = left[at] if at < len(left) else ""
            two = right[at] if at < len(right) else ""
            yield Difference("", one.strip("\n"), two.strip("\n"), tag == "equal")


def _compare_tables(ours: Mapping[str, Any], other: Mapping[str, Any]) -> Iterator[Difference]:
    mine, theirs = dict(_list_values(ours)), dict(_list_values(other))
    for key in dict.fromkeys([*mine, *theirs]):
        one, two = mine.get(key, ""), theirs.get(key, "")
        if one != two:
            yield Difference(" · ".join(key), _shorten(one), _shorten(two))


def _list_values(table: Mapping[str, Any], above: Key = ()) -> Iterator[tuple[Key, str]]:
    """Give every value in words, with the way that leads to it."""
    for key, value in table.items():
        if isinstance(value, Mapping):
            yield from _list_values(value, (*above, _name_table(key, value)))
        elif isinstance(value, list) and value and all(isinstance(v, Mapping) for v in value):
            called: dict[str, int] = {}
            for number, row in enumerate(value, start=1):
                name = f"{key} {next((row[k] for k in NAMED_BY if k in row), number)}"
                called[name] = called.get(name, 0) + 1
                again = f" ({called[name]})" if called[name] > 1 else ""
                yield from _list_values(row, (*above, name + again))
        else:
            yield (*above, key), _tell_value(value)


def _name_table(key: str, table: Mapping[str, Any]) -> str:
    """Call a photograph by its file: its id tells a person nothing."""
    file = table.get("file")
    return f"{Path(file).name} ({key})" if isinstance(file, str) and "content" in table else key


def _tell_value(value: Any) -> str:
    if isinstance(value, list):
        return ", ".join(_tell_value(one) for one in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _shorten(text: str) -> str:
    return text if len(text) <= LONGEST else f"{text[:LONGEST]} …"
