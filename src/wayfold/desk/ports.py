"""What reading needs of an open book; ``app`` provides it."""

from __future__ import annotations

from typing import Protocol

from wayfold.app.views import BookView


class DeskShown(Protocol):
    """A book's pages at one moment. Methods raise ``UserError`` for what a person can mend.

    The desk calls ``page_svg`` and ``veiled_svg`` from one thread at a time; the other two may be
    called from several threads at once.
    """

    @property
    def revision(self) -> str:
        """What changes whenever any page may look different."""
        ...

    def view(self) -> BookView:
        """The book in reading order."""
        ...

    def page_key(self, number: int) -> str:
        """What changes whenever page ``number`` may look different."""
        ...

    def veiled_key(self, place: int) -> str:
        """The same of the ``place``-th page seen through translucent leaves."""
        ...

    def page_svg(self, number: int) -> str:
        """Page ``number`` as an SVG of its trim area; its pictures refer to ``/assets/<id>``."""
        ...

    def veiled_svg(self, place: int) -> str:
        """The ``place``-th page seen through translucent leaves, as ``page_svg`` gives pages."""
        ...

    def asset_jpeg(self, asset_id: str) -> bytes:
        """The preview JPEG that a page's SVG refers to."""
        ...
