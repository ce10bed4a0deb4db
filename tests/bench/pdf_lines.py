"""Straight lines of a PDF page in mm from its head-left corner, read with pikepdf."""

import io
from itertools import pairwise

import pikepdf

from wayfold.base.geometry import Affine, Point
from wayfold.drawing.items import Drawing
from wayfold.typeset.engine import Typesetter

MM_PER_PT = 25.4 / 72

Line = tuple[float, float, float, float]


def read_lines(drawing: Drawing, typesetter: Typesetter) -> list[Line]:
    """Give every straight stroke of a drawing's PDF: x1, y1, x2, y2, rightwards and downwards."""
    with pikepdf.open(io.BytesIO(typesetter.page_pdf(drawing).pdf)) as pdf:
        page = pdf.pages[0]
        height = float(page.mediabox[3])
        lines: list[Line] = []
        _walk(page, page.Resources, Affine(), lines)
    flipped = []
    for x1, y1, x2, y2 in lines:
        ends = sorted(
            (
                (x1 * MM_PER_PT, (height - y1) * MM_PER_PT),
                (x2 * MM_PER_PT, (height - y2) * MM_PER_PT),
            )
        )
        flipped.append((*ends[0], *ends[1]))
    return flipped


def _walk(stream: object, resources: pikepdf.Object, start: Affine, lines: list[Line]) -> None:
    now, stack, path = start, [], []
    for operands, operator in pikepdf.parse_content_stream(stream):
        name = str(operator)
        if name == "q":
            stack.append(now)
        elif name == "Q":
            now = stack.pop()
        elif name == "cm":
            now = Affine(*(float(v) for v in operands)).then(now)
        elif name == "m":
            path = [[now.apply(Point(float(operands[0]), float(operands[1])))]]
        elif name == "l":
            path[-1].append(now.apply(Point(float(operands[0]), float(operands[1]))))
        elif name == "h" and path:
            path[-1].append(path[-1][0])
        elif name == "re":
            x, y, w, h = (float(v) for v in operands)
            corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)]
            path.append([now.apply(Point(*c)) for c in corners])
        elif name in ("S", "s", "B", "b", "B*"):
            for run in path:
                lines += [(a.x, a.y, b.x, b.y) for a, b in pairwise(run)]
            path = []
        elif name in ("f", "f*", "n"):
            path = []
        elif name == "Do":
            form = resources.XObject[str(operands[0])]
            if form.get("/Subtype") == "/Form":
                matrix = [float(v) for v in form.get("/Matrix", [1, 0, 0, 1, 0, 0])]
                inner = form.get("/Resources", resources)
                _walk(form, inner, Affine(*matrix).then(now), lines)
