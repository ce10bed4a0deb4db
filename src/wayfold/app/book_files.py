"""reading.pdf and sheets.pdf: the book to look through, and as it is printed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from wayfold.app.beside import Beside
from wayfold.app.setting import VeiledProofs
from wayfold.app.stages import Results
from wayfold.press.impose import write_book, write_sheets
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf


def begin_book_files(
    results: Results,
    pages: Sequence[Path],
    veiled: VeiledProofs,
    pictures: Mapping[str, Path],
    seen: Mapping[str, Path],
    marks: Sequence[Path],
    reading: Path,
    sheets: Path,
    beside: Beside,
) -> Callable[[], None]:
    """Begin to write both files; gives what waits until they are.

    ``seen`` are the pictures of pages as they are seen through leaves, which ``reading`` has too.
    """
    info = DocumentInfo(results.book.title, results.book.author, results.book.language)
    if veiled.order:
        named = replace(info, labels=veiled.labels)
        in_order = veiled.in_order(pages)
        under_way = [
            beside.begin(write_sheets, pages, pictures, marks, results.sheets, sheets),
            beside.begin(assemble_pdf, in_order, {**pictures, **seen}, reading, named),
        ]
    else:
        to_read = (reading, info)
        under_way = [
            beside.begin(write_book, pages, pictures, to_read, marks, results.sheets, sheets)
        ]

    def finish() -> None:
        for file in under_way:
            file.result()

    return finish
