"""Typst's SVG made fit to stand inside a page of HTML, with the true pictures' addresses."""

from __future__ import annotations

import base64
import re
from collections.abc import Callable
from html import escape

from wayfold.base.hashing import hash_bytes
from wayfold.drawing.items import Drawing, Picture
from wayfold.drawing.pictures import list_pictures, picture_key
from wayfold.typeset.standin import read_standin

# Each begins with plain letters: what does not is tried at every letter of a large page.
_JPEG = re.compile(r'href="data:image/jpeg;base64,([^"]*)"')
_ID = re.compile(r'id="(?<=\bid=")')
_LINKS = ('href="#', "url(#")
_HEAD = re.compile(r'<svg viewBox="([^"]*)"[^>]*?(/?)>')
"""Typst closes the head of an empty page at once."""


def dress_svg(svg: str, drawing: Drawing, href: Callable[[Picture], str]) -> str:
    """Put the pictures' addresses in place of the stand-ins; keep all ids apart from other pages'.

    The root keeps its viewBox (points) and no size, so that it fills what it is put in, and hides
    what reaches over the trim.
    """
    pictures = {picture_key(picture): picture for picture in list_pictures(drawing)}

    def swap(found: re.Match[str]) -> str:
        key = read_standin(base64.b64decode(found[1]))
        if key is None:
            return found[0]
        address = escape(href(pictures[key]))
        return f'href="{address}"'

    prefix = f"p{hash_bytes(svg.encode())[:10]}-"
    svg = _ID.sub(lambda found: found[0] + prefix, svg)
    for link in _LINKS:
        svg = svg.replace(link, link + prefix)
    svg = _JPEG.sub(swap, svg)
    return _HEAD.sub(
        r'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        r'viewBox="\1" overflow="hidden"\2>',
        svg,
        count=1,
    )
