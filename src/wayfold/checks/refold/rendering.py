"""PDF pages as pictures: grey levels of any window at any resolution, placed to the fraction."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.geometry import Affine, Rect, Size
from wayfold.base.units import mm_from_pt

Grey = npt.NDArray[np.float32]
"""Rows of grey levels, 0 black to 255 white."""


class Page:
    """One open page of a PDF; its space is mm, y down, origin at the top left of its box."""

    def __init__(self, handle: Any) -> None:
        self._handle = handle
        self.size = Size(mm_from_pt(handle.get_width()), mm_from_pt(handle.get_height()))

    def trim_origin(self) -> tuple[float, float]:
        """Where (mm) the trim box begins within the shown page; (0, 0) where none is set."""
        if self._handle.get_rotation():
            return 0.0, 0.0
        shown = self._handle.get_cropbox()
        trim = self._handle.get_trimbox()
        return mm_from_pt(trim[0] - shown[0]), mm_from_pt(shown[3] - trim[3])

    def trim_size(self) -> Size:
        """The trim box's size (mm); the shown page where none is set."""
        if self._handle.get_rotation():
            return self.size
        left, bottom, right, top = self._handle.get_trimbox()
        return Size(mm_from_pt(right - left), mm_from_pt(top - bottom))

    def render(self, window: Rect, placing: Affine, px_per_mm: float) -> Grey:
        """Give ``window`` (mm of some space) with ``placing`` from that space to this page.

        The array has round(size * px_per_mm) rows and columns; outside the page it is white.
        """
        import pypdfium2.raw as raw

        width = max(1, round(window.width * px_per_mm))
        height = max(1, round(window.height * px_per_mm))
        move = (
            Affine.scale(mm_from_pt(1.0))
            .then(placing.inverse())
            .then(Affine.shift(-window.x, -window.y))
            .then(Affine.scale(px_per_mm))
        )
        bitmap = raw.FPDFBitmap_CreateEx(width, height, raw.FPDFBitmap_Gray, None, 0)
        try:
            raw.FPDFBitmap_FillRect(bitmap, 0, 0, width, height, 0xFFFFFFFF)
            matrix = raw.FS_MATRIX(move.a, move.b, move.c, move.d, move.e, move.f)
            clip = raw.FS_RECTF(0, 0, width, height)
            raw.FPDF_RenderPageBitmapWithMatrix(bitmap, self._handle, matrix, clip, 0)
            stride = raw.FPDFBitmap_GetStride(bitmap)
            kind = ctypes.POINTER(ctypes.c_ubyte * (stride * height))
            rows = ctypes.cast(raw.FPDFBitmap_GetBuffer(bitmap), kind).contents
            grey = np.frombuffer(rows, np.uint8).reshape(height, stride)[:, :width]
            return grey.astype(np.float32)
        finally:
            raw.FPDFBitmap_Destroy(bitmap)


class Pages:
    """An open PDF file. Raises UserError where it cannot be read."""

    def __init__(self, path: Path) -> None:
        import pypdfium2 as pdfium

        if not path.is_file():
            raise NotFoundError(
                "there is no such file", where=str(path), remedy="Make the book, or name its file."
            )
        try:
            self._document = pdfium.PdfDocument(path)
        except pdfium.PdfiumError as error:
            raise UserError(
                f"this file cannot be read as PDF ({error})",
                where=str(path),
                remedy="Make the book again; if the file is protected, remove the password.",
            ) from error
        self.path = path
        self.count = len(self._document)

    @contextmanager
    def page(self, index: int) -> Iterator[Page]:
        """Open page ``index`` (from 0); its decoded pictures are freed at the end."""
        handle = self._document[index]
        try:
            yield Page(handle)
        finally:
            handle.close()

    def sizes(self) -> tuple[Size, ...]:
        """The size (mm) of every page."""
        pairs = (self._document.get_page_size(i) for i in range(self.count))
        return tuple(Size(mm_from_pt(w), mm_from_pt(h)) for w, h in pairs)

    def close(self) -> None:
        """Let go of the file."""
        self._document.close()


def place_trim(page: Page) -> Affine:
    """The map from trimmed page space to the space of ``page``."""
    return Affine.shift(*page.trim_origin())
