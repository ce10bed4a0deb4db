"""A little imposer of the tests' own, so that the proof never leans on the one it proves.

It lays pages on sheets by the page orders that are printed in binding handbooks (typed in by
hand below, no formula) and writes raw PDF operators. Every fault the tests need is one changed
value in its list of sides.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pikepdf
from pikepdf import Dictionary, Name

from wayfold.base.geometry import Size
from wayfold.base.units import pt_from_mm as pt
from wayfold.checks.refold.folding import Folding, Turning

# Outer side left | right, inner side left | right, outermost sheet first. Common practice, shown
# by any folded dummy; the eight-sheet order (32|1, 2|31 …) is printed in a published account of
# hand bookmaking (caladan.nanosoft.ca/book.php), whose pattern these follow.
ORDERS: dict[int, tuple[tuple[tuple[int, int], tuple[int, int]], ...]] = {
    1: (((4, 1), (2, 3)),),
    2: (((8, 1), (2, 7)), ((6, 3), (4, 5))),
    3: (((12, 1), (2, 11)), ((10, 3), (4, 9)), ((8, 5), (6, 7))),
    4: (((16, 1), (2, 15)), ((14, 3), (4, 13)), ((12, 5), (6, 11)), ((10, 7), (8, 9))),
    5: (
        ((20, 1), (2, 19)),
        ((18, 3), (4, 17)),
        ((16, 5), (6, 15)),
        ((14, 7), (8, 13)),
        ((12, 9), (10, 11)),
    ),
    8: (
        ((32, 1), (2, 31)),
        ((30, 3), (4, 29)),
        ((28, 5), (6, 27)),
        ((26, 7), (8, 25)),
        ((24, 9), (10, 23)),
        ((22, 11), (12, 21)),
        ((20, 13), (14, 19)),
        ((18, 15), (16, 17)),
    ),
}

TEXT = """
harbour morning ferry stairs lemon granite window bell market salt narrow terrace evening swallow
copper lantern orchard bridge rain café letter platform shadow clay tiles river
"""
WORDS = TEXT.split()


@dataclass(frozen=True)
class Laid:
    """A page laid on a half: shifted by dx, dy mm; turned or mirrored in its place."""

    page: int | None
    dx: float = 0.0
    dy: float = 0.0
    turned: bool = False
    mirrored: bool = False
    scale: float = 1.0
    clip_in: float = 0.0
    """Clip so many mm inside the trim."""


@dataclass(frozen=True)
class Side:
    """A sheet side: two pages, then the whole turned, mirrored or scaled about its middle."""

    left: Laid
    right: Laid
    turned: bool = False
    mirrored: bool = False
    scale: float = 1.0
    marks: str = ""
    """Further operators, in mm from the lower left corner of the sheet."""


def impose(folding: Folding, sign: float = 1.0, compensate: bool | None = None) -> list[Side]:
    """The right sides of a book: front, back, front, back … ``sign`` -1 moves creep outwards."""
    creeps = folding.trim_fore_edge if compensate is None else compensate
    sides = []
    first = 0
    for sheets in folding.gatherings:
        for depth, (outer, inner) in enumerate(ORDERS[sheets]):
            # Worked by hand: depth sheets of the given caliper lie outside this one.
            toward_fold = sign * folding.creep_coefficient * depth * folding.caliper_um / 1000
            toward_fold = toward_fold if creeps else 0.0
            for (left, right), back in ((outer, False), (inner, True)):
                sides.append(
                    Side(
                        Laid(first + left, dx=toward_fold),
                        Laid(first + right, dx=-toward_fold),
                        turned=back and _backs_are_turned(folding),
                    )
                )
        first += 4 * sheets
    return sides


def _backs_are_turned(folding: Folding) -> bool:
    """A landscape sheet turned about its long edge shows its back head down."""
    return folding.turning is Turning.LONG_EDGE


def change(side: Side, half: str, **values: object) -> Side:
    """The side with one of its pages laid otherwise."""
    laid: Laid = getattr(side, half)
    return replace(side, **{half: replace(laid, **values)})  # type: ignore[arg-type]


def write_reading(path: Path, book: list[str], folding: Folding) -> Path:
    """The pages in order, with trim and bleed boxes."""
    pdf = pikepdf.new()
    trim, bleed = folding.trim, folding.bleed
    fonts = _fonts()
    for content in book:
        media = Size(trim.width + 2 * bleed, trim.height + 2 * bleed)
        page = pdf.add_blank_page(page_size=(pt(media.width), pt(media.height)))
        box = [pt(bleed), pt(bleed), pt(bleed + trim.width), pt(bleed + trim.height)]
        page.obj.TrimBox = page.obj.CropBox = pikepdf.Array(box)
        veil = Dictionary(Veil=Dictionary(Type=Name.ExtGState, ca=0.66))
        page.obj.Resources = Dictionary(Font=fonts, XObject=_pictures(pdf), ExtGState=veil)
        shift = f"q 1 0 0 1 {pt(bleed):.5f} {pt(bleed):.5f} cm\n{content}\nQ"
        page.obj.Contents = pdf.make_stream(shift.encode())
    pdf.save(path)
    return path


def write_sheets(path: Path, sides: list[Side], book: list[str], folding: Folding) -> Path:
    """The printed sides as one PDF."""
    pdf = pikepdf.new()
    forms: dict[int, pikepdf.Object] = {}
    for side in sides:
        sheet = folding.sheet
        page = pdf.add_blank_page(page_size=(pt(sheet.width), pt(sheet.height)))
        names: dict[str, pikepdf.Object] = {}
        parts = [_about_middle(side, sheet)]
        for laid, left in ((side.left, True), (side.right, False)):
            if laid.page is None:
                continue
            if laid.page not in forms:
                forms[laid.page] = _form(pdf, book[laid.page - 1], folding)
            names[f"/P{laid.page}"] = forms[laid.page]
            parts.append(_lay(laid, left, folding))
        parts.append(f"q {pt(1):.6f} 0 0 {pt(1):.6f} 0 0 cm {side.marks} Q")
        page.obj.Resources = Dictionary(XObject=Dictionary(names))
        page.obj.Contents = pdf.make_stream("\n".join(parts).encode())
    pdf.save(path)
    return path


def _about_middle(side: Side, sheet: Size) -> str:
    x, y = pt(sheet.width) / 2, pt(sheet.height) / 2
    a = side.scale * (-1 if side.turned != side.mirrored else 1)
    d = side.scale * (-1 if side.turned else 1)
    return f"1 0 0 1 {x:.5f} {y:.5f} cm {a} 0 0 {d} 0 0 cm 1 0 0 1 {-x:.5f} {-y:.5f} cm"


def _lay(laid: Laid, left: bool, folding: Folding) -> str:
    trim, sheet, bleed = folding.trim, folding.sheet, folding.bleed
    fold, foot = sheet.width / 2, (sheet.height - trim.height) / 2
    x = fold - trim.width if left else fold
    out = bleed - laid.clip_in
    clip_left = x - out if left else fold
    clip = (clip_left, foot - out, trim.width + out, trim.height + 2 * out)
    a = laid.scale * (-1 if laid.turned != laid.mirrored else 1)
    d = laid.scale * (-1 if laid.turned else 1)
    middle = trim.width / 2, trim.height / 2
    return (
        f"q {' '.join(f'{pt(v):.5f}' for v in clip)} re W n "
        f"1 0 0 1 {pt(x + laid.dx + middle[0]):.5f} {pt(foot - laid.dy + middle[1]):.5f} cm "
        f"{a} 0 0 {d} 0 0 cm 1 0 0 1 {pt(-middle[0]):.5f} {pt(-middle[1]):.5f} cm "
        f"/P{laid.page} Do Q"
    )


def _form(pdf: pikepdf.Pdf, content: str, folding: Folding) -> pikepdf.Object:
    trim, bleed = folding.trim, folding.bleed
    box = [pt(-bleed), pt(-bleed), pt(trim.width + bleed), pt(trim.height + bleed)]
    form = pdf.make_stream(content.encode())
    form.Type, form.Subtype = Name.XObject, Name.Form
    form.BBox = pikepdf.Array(box)
    form.Resources = Dictionary(Font=_fonts(), XObject=_pictures(pdf))
    return form


def _fonts() -> Dictionary:
    return Dictionary(
        F=Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name("/Times-Roman"))
    )


PICTURES = 10
OWN = 5
"""The book's own pictures come first; those of any other book after them."""

_SIZE_PX = (420, 300)


def _pictures(pdf: pikepdf.Pdf) -> pikepdf.Object:
    """A few pictures of random cloud and grain, kept once in each file."""
    if "/Pictures" not in pdf.Root:
        made = {}
        for seed in range(PICTURES):
            image = pdf.make_stream(_draw_picture(seed).tobytes())
            image.Type, image.Subtype = Name.XObject, Name.Image
            image.Width, image.Height = _SIZE_PX
            image.ColorSpace, image.BitsPerComponent = Name.DeviceGray, 8
            made[f"/I{seed}"] = pdf.make_indirect(image)
        pdf.Root.Pictures = pdf.make_indirect(Dictionary(made))
    return pdf.Root.Pictures


def _draw_picture(seed: int) -> npt.NDArray[np.uint8]:
    chance = np.random.default_rng(seed)
    width, height = _SIZE_PX
    picture = np.full((height, width), 120.0)
    for cell, strength in ((60, 45), (20, 25), (6, 15)):
        coarse = chance.normal(size=(height // cell + 1, width // cell + 1)) * strength
        picture += np.kron(coarse, np.ones((cell, cell)))[:height, :width]
    clipped: npt.NDArray[np.uint8] = np.clip(picture, 20, 235).astype(np.uint8)
    return clipped


def draw_book(pages: int, trim: Size, bleed: float, seed: int = 1) -> list[str]:
    """Page contents (PDF operators, origin at the lower left trim corner) of many kinds.

    Title, pictures with captions, text, a full-bleed picture now and then, pages with a folio
    only, and a blank before the end.
    """
    chance = random.Random(seed)
    pool = range(OWN) if seed == 1 else range(OWN, PICTURES)
    book = []
    for number in range(1, pages + 1):
        kind = ("text", "picture", "bleed", "text", "pair", "folio", "text", "picture")[number % 8]
        if number == pages - 1:
            kind = "blank"
        parts = []
        if kind == "text":
            parts += _text_lines(chance, trim, round(trim.height / 9))
        if kind == "picture":
            parts.append(
                _picture(chance, pool, 15, trim.height * 0.35, trim.width - 30, trim.width * 0.6)
            )
            parts += _text_lines(chance, trim, 2)
        if kind == "pair":
            height = trim.height / 3
            for y in (20, 25 + height):
                parts.append(_picture(chance, pool, 18, y, trim.width - 36, height - 5))
        if kind == "bleed":
            parts.append(
                _picture(
                    chance, pool, -bleed, -bleed, trim.width + 2 * bleed, trim.height + 2 * bleed
                )
            )
        if kind in ("text", "picture", "pair", "folio"):
            x = trim.width - 20 if number % 2 else 15
            parts.append(write_line(str(number), x, 10, 9))
        book.append("\n".join(parts))
    return book


def _text_lines(chance: random.Random, trim: Size, count: int) -> list[str]:
    size_pt = 10.5
    letters = int(pt(trim.width - 40) / (0.46 * size_pt))
    lines = []
    for i in range(count):
        words = ""
        while len(words) < letters - 9:
            words += chance.choice(WORDS) + " "
        indent = 5 if chance.random() < 0.2 else 0
        lines.append(write_line(words, 20 + indent, trim.height - 22 - 5.3 * i, size_pt))
    return [line for i, line in enumerate(lines) if trim.height - 22 - 5.3 * i > 15]


def write_line(words: str, x: float, y: float, size_pt: float) -> str:
    """A line of text with its baseline at ``y`` mm from the foot."""
    plain = words.replace("é", "\\351")
    return f"BT /F {size_pt} Tf {pt(x):.4f} {pt(y):.4f} Td ({plain}) Tj ET"


def _picture(
    chance: random.Random, pool: range, x: float, y: float, width: float, height: float
) -> str:
    seed = chance.choice(pool)
    # A part of one of the pictures, chosen by chance, so that no two pages are alike.
    zoom, ax, ay = 1.4 + chance.random(), chance.random() * 0.3, chance.random() * 0.3
    box = f"{pt(x):.4f} {pt(y):.4f} {pt(width):.4f} {pt(height):.4f}"
    return (
        f"q {box} re W n {pt(width) * zoom:.4f} 0 0 {pt(height) * zoom:.4f} "
        f"{pt(x - ax * width):.4f} {pt(y - ay * height):.4f} cm /I{seed} Do Q"
    )
