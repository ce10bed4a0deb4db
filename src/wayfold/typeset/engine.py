"""The typesetter: measures text, and turns a drawing into a PDF page or an SVG for the screen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from wayfold.base.findings import Finding, Severity
from wayfold.base.units import mm_from_pt, pt_from_mm
from wayfold.drawing.items import Drawing, Picture, Text
from wayfold.drawing.text import Paragraph, Run, TextBlock, TextMeasurer
from wayfold.typeset.encode import Encoder, Reader
from wayfold.typeset.fonts import FontLibrary, read_licence
from wayfold.typeset.frames import fill_frames
from wayfold.typeset.glyphs import find_missing_glyphs
from wayfold.typeset.hyphens import find_unhyphenated
from wayfold.typeset.scripts import find_right_to_left
from wayfold.typeset.session import Session, TextFit
from wayfold.typeset.svg import dress_svg

_TOLERANCE = 0.01
"""Text higher or wider than its room by less than this (mm) is a rounding, not a fault."""


@dataclass(frozen=True, slots=True)
class PageProof:
    """A one-page PDF with stand-in pictures, and what is wrong with its texts."""

    pdf: bytes
    findings: tuple[Finding, ...]


class Typesetter(TextMeasurer):
    """Sets text with the fonts of a library (default: those of the house).

    May be shared between threads; each keeps its own compiler. Do not fork a process that has
    set something: start workers by spawning. Every method raises UserError for a font family
    that is not in the library.
    """

    def __init__(self, fonts: FontLibrary | None = None) -> None:
        self._fonts = fonts or FontLibrary()
        self._session = Session(self._fonts)
        self._known_signs: dict[str, bool] = {}

    @property
    def fonts(self) -> FontLibrary:
        """The fonts that it sets with."""
        return self._fonts

    def read_licences(self) -> dict[str, str]:
        """Give the licence of each font family, "" where its files name none."""
        return {face.family: read_licence(face.path) for face in self._fonts.faces}

    def measure_heights(self, blocks: Sequence[TextBlock]) -> tuple[float, ...]:
        """Give the height in mm of each block, set to its width: all in one compilation."""
        if not blocks:
            return ()
        encoder = Encoder(self._fonts)
        for block in blocks:
            encoder.add_block(block)
        heights_pt = self._session.run(encoder.job, "svg").heights_pt
        return tuple(mm_from_pt(height) for height in heights_pt)

    def measure_widths(self, lines: Sequence[Paragraph]) -> tuple[float, ...]:
        """Give the width in mm of each paragraph set on one line: all in one compilation."""
        if not lines:
            return ()
        encoder = Encoder(self._fonts)
        for line in lines:
            encoder.add_line(line)
        widths_pt = self._session.run(encoder.job, "svg").widths_pt
        return tuple(mm_from_pt(width) for width in widths_pt)

    def split_to_height(
        self, block: TextBlock, heights: Sequence[float]
    ) -> tuple[tuple[Paragraph, ...], ...]:
        """Thread a text through frames of the given heights (mm); see ``TextMeasurer``.

        No paragraph leaves a single line on either side of a cut where that can be helped.
        """
        known: dict[Paragraph, int] = {}

        def count_lines(paragraph: Paragraph) -> int:
            if paragraph not in known:
                known[paragraph] = self._count_lines([paragraph], block.width)[0]
            return known[paragraph]

        def fit_pieces(pieces: Sequence[tuple[Run, ...]], paragraph: Paragraph, lines: int) -> int:
            encoder = Encoder(self._fonts)
            style = paragraph.style
            guess = len(pieces) * lines // count_lines(paragraph)
            encoder.add_cut(pieces, guess, style, block.width, lines * style.leading_pt)
            return self._session.run(encoder.job, "svg").cuts[0]

        whole = list(dict.fromkeys(block.paragraphs))
        known.update(zip(whole, self._count_lines(whole, block.width), strict=True))
        heights_pt = [pt_from_mm(height) for height in heights]
        return fill_frames(block.paragraphs, heights_pt, count_lines, fit_pieces)

    def page_pdf(self, drawing: Drawing) -> PageProof:
        """Draw one page as PDF, pictures as stand-ins, and judge its texts.

        The same drawing gives the same bytes. MediaBox is trim and bleed.
        """
        encoder = Encoder(self._fonts)
        encoder.add_drawing(drawing)
        answer = self._session.run(encoder.job, "pdf")
        findings = (
            *_find_overset(encoder.texts, answer.fits),
            *self._judge_letters(encoder.texts),
        )
        return PageProof(answer.data, findings)

    def judge_letters(self, drawing: Drawing) -> tuple[Finding, ...]:
        """Give what ``page_pdf`` finds of a page's letters, which takes no setting of the type."""
        encoder = Encoder(self._fonts)
        encoder.add_drawing(drawing)
        return self._judge_letters(encoder.texts)

    def page_svg(self, drawing: Drawing, href: Callable[[Picture], str]) -> str:
        """Draw one page (trimmed, no bleed) as SVG to stand inside an HTML page.

        ``href`` gives the address of each picture; what it shows must be cropped already.
        """
        encoder = Encoder(self._fonts)
        encoder.add_drawing(drawing)
        svg = self._session.run(encoder.job, "svg").data.decode()
        return dress_svg(svg, drawing, href)

    def page_png(self, drawing: Drawing, ppi: float, read: Reader) -> bytes:
        """Draw one page (trimmed, no bleed) as PNG at ``ppi``, clear where there is no ink.

        ``read`` gives the JPEG of each picture's raster, the whole of it: the crop is taken here.
        """
        encoder = Encoder(self._fonts, read)
        encoder.add_drawing(drawing, trimmed=True)
        return self._session.run(encoder.job, "png", ppi).data

    def _judge_letters(self, texts: Sequence[Text]) -> tuple[Finding, ...]:
        return (
            *find_missing_glyphs(texts, self._fonts, self._has_sign),
            *find_unhyphenated(texts),
            *find_right_to_left(texts),
        )

    def _count_lines(self, paragraphs: Sequence[Paragraph], width: float) -> list[int]:
        heights = self.measure_heights([TextBlock((p,), width) for p in paragraphs])
        return [
            round(pt_from_mm(height) / p.style.leading_pt)
            for p, height in zip(paragraphs, heights, strict=True)
        ]

    def _has_sign(self, sign: str) -> bool:
        if sign not in self._known_signs:
            self._known_signs[sign] = self._session.has_sign(sign)
        return self._known_signs[sign]


def _find_overset(texts: Sequence[Text], fits: Sequence[TextFit]) -> list[Finding]:
    found = []
    for fit in fits:
        text = texts[fit.index]
        over = mm_from_pt(fit.need_pt) - text.box.height
        if over > _TOLERANCE:
            found.append(
                _overset(
                    text.key, f"The text is {over:.1f} mm too long for its place", "Shorten it."
                )
            )
        if fit.stick_out > _TOLERANCE:
            message = f"One word is {fit.stick_out:.1f} mm wider than its place"
            found.append(_overset(text.key, message, "Divide it with a hyphen or a line break."))
    return found


def _overset(key: str, message: str, remedy: str) -> Finding:
    return Finding("overset", Severity.BLOCK, key, f"{message}.", remedy)
