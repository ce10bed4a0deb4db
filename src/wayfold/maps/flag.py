"""The door to the flags: one SVG a country, put beside this module when the package is built."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from xml.etree import ElementTree

ASPECT = 4 / 3
"""Width over height of every flag, whatever the country's own law says: rows want one height."""
_SVG = "http://www.w3.org/2000/svg"
_FINEST = 1 / 320
"""Strokes finer than this share of the flag's width go: on a flag of 3 mm they are a hundredth of
a millimetre, which prints as a smear (the finest line that prints is 0.05 mm: Lexikon der
Geoinformatik, Univ. Rostock)."""


@cache
def load_flag(country: str) -> str | None:
    """Give the flag of a country (ISO 3166-1 alpha-2) as SVG, None where there is none.

    It is meant for small sizes: the finest strokes are left out.
    """
    code = country.lower()
    if len(code) != 2 or not (code.isascii() and code.isalpha()):
        return None
    file = files("wayfold.maps") / "flags" / f"{code}.svg"
    return leave_out_fine(file.read_text("utf-8")) if file.is_file() else None


def leave_out_fine(svg: str) -> str:
    """Give an SVG without the strokes that are too fine to print at the size of a letter."""
    ElementTree.register_namespace("", _SVG)
    ElementTree.register_namespace("xlink", "http://www.w3.org/1999/xlink")
    root = ElementTree.fromstring(svg)
    width = float(root.get("viewBox", "0 0 640 480").split()[2])
    for element in root.iter():
        stroke_width = element.get("stroke-width")
        if stroke_width and _read_number(stroke_width) < width * _FINEST:
            element.set("stroke", "none")
    return ElementTree.tostring(root, "unicode")


def _read_number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return float("inf")  # a unit or a share: not one of the fine ones
