"""One-page PDFs and the print pictures put together into the book's PDF."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from wayfold.base.errors import UserError
from wayfold.base.hashing import hash_bytes, hash_values
from wayfold.disk.replacing import replace_file
from wayfold.typeset.album import name_entry, open_album
from wayfold.typeset.file_identity import write_identity
from wayfold.typeset.page_labels import make_labels
from wayfold.typeset.parts import JoinedParts, PatientSink
from wayfold.typeset.standin import read_standin

if TYPE_CHECKING:
    import pikepdf

_FONT_STREAMS = ("/FontFile2", "/FontFile3", "/ToUnicode", "/CIDToGIDMap", "/CIDSet", "/Encoding")


@dataclass(frozen=True, slots=True)
class DocumentInfo:
    """What the PDF says of the book; ``language`` is a BCP 47 code.

    ``labels`` are what a viewer calls each page; none where it is to count them.
    """

    title: str
    author: str = ""
    language: str = "en"
    labels: tuple[str, ...] = ()


def assemble_pdf(
    pages: Sequence[Path], pictures: Mapping[str, Path], target: Path, info: DocumentInfo
) -> None:
    """Join one-page PDFs in order and put the pictures in place of their stand-ins.

    ``pictures`` maps picture keys (``drawing.pictures.picture_key``) to JPEG files, which go in
    byte for byte, once each, with their colour profiles. Boxes follow ISO 32000-1, 14.11.2:
    MediaBox and BleedBox are trim and bleed, TrimBox and CropBox the page. The file is written
    beside ``target`` and takes its name when whole; the same input gives the same bytes. The file's
    identity is that of the pages and of the pictures' keys and sizes.

    Raises UserError for a stand-in without its picture, a picture or page that cannot be used,
    and a target that cannot be written.
    """
    with open_book(pages, pictures, target) as open_pages:
        open_pages.save_described(target, info)


@dataclass(frozen=True, slots=True)
class OpenPages:
    """Pages joined with their pictures in memory, the pictures themselves still on disk.

    ``identity`` is that of the pages and of the pictures' keys and sizes.
    """

    pdf: pikepdf.Pdf
    identity: str
    sources: JoinedParts

    def save(self, target: Path, identity: str) -> None:
        """Write the PDF as it is by now; raises what ``assemble_pdf`` does."""
        _save(self.pdf, self.sources, target, identity)

    def save_described(self, target: Path, info: DocumentInfo) -> None:
        """Write the pages as ``assemble_pdf`` does; the PDF in memory stays as it was."""
        _describe_book(self.pdf, info)
        self.save(target, hash_values(info, self.identity))
        _take_description(self.pdf)


@contextlib.contextmanager
def open_book(
    pages: Sequence[Path], pictures: Mapping[str, Path], where: Path
) -> Iterator[OpenPages]:
    """Join pages and pictures as ``assemble_pdf`` does, for a file ``where`` that is yet to be."""
    if not pages:
        raise UserError("there are no pages to put together", where=str(where))
    # The album is the book to be: pictures of its own are streamed from their files at the save,
    # while everything copied from another PDF is held in memory until then.
    book, source_files = open_album(pictures)
    identities = []
    with book:
        placer = _PicturePlacer(book)
        for path in pages:
            with _open_page(path) as source:
                identities.append(hash_bytes(path.read_bytes()))
                book.pages.append(source.pages[0])
            page = book.pages[-1].obj
            _set_boxes(page)
            placer.swap_pictures(page, path)
        album = book.Root.Album
        shown = {key: int(album[name_entry(key)].stream_dict.Length) for key in pictures}
        del book.Root.Album
        yield OpenPages(book, hash_values(identities, shown), source_files)


class _PicturePlacer:
    """Swaps stand-ins for pictures, and keeps one copy of streams that many pages carry alike."""

    def __init__(self, book: pikepdf.Pdf) -> None:
        self._album = book.Root.Album
        self._shared: dict[str, pikepdf.Object] = {}

    def swap_pictures(self, page: pikepdf.Object, where: Path) -> None:
        for resources in _list_resources(page):
            for name, image in _list_entries(resources, "/XObject"):
                if image.get("/Subtype") == "/Image":
                    resources["/XObject"][name] = self._find_picture(image, where)
            self._share_profiles(resources)
            self._share_fonts(resources)

    def _find_picture(self, image: pikepdf.Object, where: Path) -> pikepdf.Object:
        key = read_standin(image.read_raw_bytes()) if image.get("/Filter") == "/DCTDecode" else None
        if key is None:
            return image
        if name_entry(key) not in self._album:
            raise UserError(
                f"the picture {key} is not among the print pictures",
                where=str(where),
                remedy="Have the print pictures made again.",
            )
        return self._album[name_entry(key)]

    def _share_profiles(self, resources: pikepdf.Object) -> None:
        for _, space in _list_entries(resources, "/ColorSpace"):
            if _is_list(space) and space[0] == "/ICCBased":
                space[1] = self._share(space[1])

    def _share_fonts(self, resources: pikepdf.Object) -> None:
        for _, font in _list_entries(resources, "/Font"):
            holders = [font]
            for descendant in font.get("/DescendantFonts", ()):
                holders.append(descendant)
                if "/FontDescriptor" in descendant:
                    holders.append(descendant.FontDescriptor)
            for holder in holders:
                for name in _FONT_STREAMS:
                    if _is_stream(holder.get(name)):
                        holder[name] = self._share(holder[name])

    def _share(self, stream: pikepdf.Object) -> pikepdf.Object:
        # What a stream is depends on its dictionary as well: the filter, the number of channels.
        head = ";".join(f"{name}={stream[name]!r}" for name in sorted(stream.keys()))
        return self._shared.setdefault(hash_bytes(head.encode() + stream.read_raw_bytes()), stream)


def _list_resources(owner: pikepdf.Object) -> Iterator[pikepdf.Object]:
    """Give the resources of a page or form and of every form and pattern within it."""
    resources = owner.get("/Resources")
    if resources is None:
        return
    yield resources
    for _, inner in _list_entries(resources, "/XObject"):
        if inner.get("/Subtype") == "/Form":
            yield from _list_resources(inner)
    for _, pattern in _list_entries(resources, "/Pattern"):
        yield from _list_resources(pattern)


def _list_entries(resources: pikepdf.Object, kind: str) -> list[tuple[str, pikepdf.Object]]:
    entries = resources.get(kind)
    return [] if entries is None else [(name, entries[name]) for name in sorted(entries.keys())]


def _is_list(value: object) -> bool:
    import pikepdf

    return isinstance(value, pikepdf.Array)


def _is_stream(value: object) -> bool:
    import pikepdf

    return isinstance(value, pikepdf.Stream)


def _open_page(path: Path) -> pikepdf.Pdf:
    import pikepdf

    try:
        source = pikepdf.open(path)
    except OSError as error:
        raise _refuse_page(path, str(error.strerror)) from error
    except pikepdf.PdfError as error:
        raise _refuse_page(path, "this is no whole PDF") from error
    if len(source.pages) != 1:
        raise _refuse_page(path, f"one page was expected, not {len(source.pages)}")
    return source


def _refuse_page(path: Path, what: str) -> UserError:
    return UserError(
        f"the page cannot be used: {what}", where=str(path), remedy="Have the pages made again."
    )


def _set_boxes(page: pikepdf.Object) -> None:
    media = page.MediaBox
    page.BleedBox = media
    if "/TrimBox" not in page:
        page.TrimBox = media
    page.CropBox = page.TrimBox


def _describe_book(book: pikepdf.Pdf, info: DocumentInfo) -> None:
    import pikepdf

    root = book.Root
    root.PageLayout = pikepdf.Name.TwoPageRight
    root.Lang = pikepdf.String(info.language)
    root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True)
    book.docinfo["/Title"] = pikepdf.String(info.title)
    if info.author:
        book.docinfo["/Author"] = pikepdf.String(info.author)
    if info.labels:
        root.PageLabels = make_labels(info.labels)


def _take_description(book: pikepdf.Pdf) -> None:
    del book.trailer.Info
    for name in ("/PageLayout", "/Lang", "/ViewerPreferences", "/PageLabels"):
        if name in book.Root:
            del book.Root[name]


def _save(book: pikepdf.Pdf, files: JoinedParts, target: Path, identity: str) -> None:
    fresh = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        with fresh.open("wb") as file:
            sink = PatientSink(file)
            _write(book, sink)
            sink.finish()
        if files.failure is not None:
            path, reason = files.failure
            raise UserError(
                f"the picture could not be read to its end: {reason}",
                where=str(path),
                remedy="Have the pictures made again, and leave them in their place meanwhile.",
            )
        write_identity(fresh, identity)
        _sync(fresh)
        replace_file(fresh, target)
    except OSError as error:
        raise UserError(
            f"the PDF cannot be written: {error.strerror or error}",
            where=str(target),
            remedy="Make room on the disk, or choose a folder that can be written to.",
        ) from error
    finally:
        with contextlib.suppress(OSError):
            fresh.unlink()


def _sync(file: Path) -> None:
    """Have a file on the disk itself before it takes its name: a power cut must not empty it."""
    with file.open("r+b") as written:
        os.fsync(written.fileno())


def _write(book: pikepdf.Pdf, sink: PatientSink) -> None:
    import pikepdf

    book.save(
        sink,  # type: ignore[arg-type]
        min_version="1.7",
        static_id=True,  # and then ours,
        object_stream_mode=pikepdf.ObjectStreamMode.generate,
        compress_streams=True,
    )
