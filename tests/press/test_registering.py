"""A printer with shift, skew and stretch, simulated on rasters, made good from its own sheet.

What the printer does to a side is done to the rendered side by Pillow; nothing of the package takes
part in it. Front and back are then laid on each other as paper has it.
"""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from PIL import Image

from wayfold.base.geometry import Affine, Point, Size
from wayfold.book.materials import Duplex
from wayfold.book.registration import Registration
from wayfold.checks.registration_photo import DiscPlan, read_discs
from wayfold.press.bed import turns_heads
from wayfold.press.registering import (
    describe_lie,
    find_misprint,
    fit_affine,
    list_marks,
    measure_lengths,
    see_through,
)
from wayfold.press.registration_sheet import (
    DISC,
    DISC_BACK,
    DISC_FRONT,
    draw_registration,
    find_disc,
)
from wayfold.typeset.engine import Typesetter

PX = 6.0
"""Pixels to a millimetre: a tenth of a millimetre is more than half a pixel."""
SHEETS = [Size(483.0, 329.0), Size(329.0, 483.0)]
DUPLEX = [Duplex.SHORT_EDGE, Duplex.LONG_EDGE, Duplex.MANUAL]


def about(middle: Point, map_: Affine) -> Affine:
    return Affine.shift(-middle.x, -middle.y).then(map_).then(Affine.shift(middle.x, middle.y))


def spoil(sheet: Size, *, right: float, down: float, skew_deg: float, stretch: float) -> Affine:
    """What a printer does to a side (sheet space of that side)."""
    middle = Point(sheet.width / 2, sheet.height / 2)
    turned = about(middle, Affine.turn(skew_deg).then(Affine.scale(1 + stretch, 1 + stretch / 2)))
    return turned.then(Affine.shift(right, down))


def render(drawing) -> Image.Image:
    page = pypdfium2.PdfDocument(Typesetter().page_pdf(drawing).pdf)[0]
    return page.render(scale=PX * 25.4 / 72).to_pil().convert("L")


def print_side(image: Image.Image, misprint: Affine) -> Image.Image:
    """Put what is at p of the file at misprint(p) of the paper."""
    back = misprint.inverse()
    data = (back.a, back.c, back.e * PX, back.b, back.d, back.f * PX)
    return image.transform(
        image.size, Image.Transform.AFFINE, data, Image.Resampling.BICUBIC, fillcolor=255
    )


def show_through(front: Image.Image, back: Image.Image, *, heads_turned: bool) -> np.ndarray:
    """The sheet held to the light: the back, mirrored as paper has it, darkens the front."""
    flip = Image.Transpose.FLIP_TOP_BOTTOM if heads_turned else Image.Transpose.FLIP_LEFT_RIGHT
    behind = np.asarray(back.transpose(flip), dtype=float)
    lit = np.asarray(front, dtype=float) * (0.55 + 0.45 * behind / 255.0)
    return lit * 0.9


def plan_discs(sheet: Size) -> DiscPlan:
    marks = list_marks(sheet)
    front = tuple(find_disc(m, sheet, DISC_FRONT) for m in marks)
    back = tuple(find_disc(m, sheet, DISC_BACK) for m in marks)
    return DiscPlan(sheet, front, back, DISC)


def offsets_at(sheet: Size, plan: DiscPlan, offsets: tuple[Point, ...]) -> tuple[Point, ...]:
    landed = [Point(p.x + o.x, p.y + o.y) for p, o in zip(plan.back, offsets, strict=True)]
    fitted = fit_affine(plan.back, landed)
    return tuple(Point(fitted.apply(m).x - m.x, fitted.apply(m).y - m.y) for m in list_marks(sheet))


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("duplex", DUPLEX)
def test_backs_made_good_from_a_picture_lie_on_the_fronts(
    sheet: Size, duplex: Duplex, tmp_path: Path
) -> None:
    turned = turns_heads(sheet, duplex)
    front_error = spoil(sheet, right=0.0, down=0.0, skew_deg=0.0, stretch=0.002)
    back_error = spoil(sheet, right=1.3, down=-0.8, skew_deg=0.25, stretch=-0.003)
    front, back = (render(d) for d in draw_registration(sheet, "a printer", turns_heads=turned))
    lit = show_through(
        print_side(front, front_error), print_side(back, back_error), heads_turned=turned
    )
    noisy = lit + np.random.default_rng(1).normal(0, 3, lit.shape)
    picture = Image.fromarray(noisy.clip(0, 255).astype(np.uint8))
    # Taken a little askew, and not cut quite to the sheet.
    width, height = picture.size
    askew = picture.transform(
        (width, height),
        Image.Transform.QUAD,
        (-14, -9, -4, height + 12, width + 10, height + 3, width + 5, -16),
        Image.Resampling.BICUBIC,
        fillcolor=40,
    )
    askew.save(tmp_path / "lit.png")
    plan = plan_discs(sheet)
    found = read_discs(tmp_path / "lit.png", plan)
    across, along = measure_lengths(sheet)
    readings = Registration(offsets_at(sheet, plan, found.offsets), across * 1.002, along * 1.001)
    check_made_good(sheet, readings, front_error, back_error, turned)


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("duplex", DUPLEX)
def test_backs_made_good_from_typed_readings_lie_on_the_fronts(sheet: Size, duplex: Duplex) -> None:
    turned = turns_heads(sheet, duplex)
    front_error = spoil(sheet, right=0.0, down=0.0, skew_deg=0.0, stretch=-0.0015)
    back_error = spoil(sheet, right=-0.9, down=1.6, skew_deg=-0.2, stretch=0.002)
    through = see_through(sheet, turns_heads=turned)
    offsets = []
    for mark in list_marks(sheet):
        # The back's cross is drawn behind the mark; read to a tenth, as an eye does.
        seen = through.apply(back_error.apply(through.inverse().apply(mark)))
        printed = front_error.apply(mark)
        offsets.append(Point(round(seen.x - printed.x, 1), round(seen.y - printed.y, 1)))
    across, along = measure_lengths(sheet)
    readings = Registration(
        tuple(offsets), round(across * 0.9985, 1), round(along * (1 - 0.0015 / 2), 1)
    )
    check_made_good(sheet, readings, front_error, back_error, turned)


def check_made_good(
    sheet: Size, readings: Registration, front_error: Affine, back_error: Affine, turned: bool
) -> None:
    """Print test marks of the whole sheet, made good, and compare front and back on the paper."""
    misprint = find_misprint(readings, sheet, turns_heads=turned)
    through = see_through(sheet, turns_heads=turned)
    spots = [
        Point(sheet.width * u, sheet.height * v) for u in (0.1, 0.5, 0.9) for v in (0.1, 0.5, 0.9)
    ]
    front_file, back_file = (blank(sheet) for _ in range(2))
    for spot in spots:
        dot(front_file, misprint.front.inverse().apply(spot))
        behind = through.inverse().apply(spot)
        dot(back_file, misprint.back.inverse().apply(behind))
    on_front = print_side(front_file, front_error)
    flip = Image.Transpose.FLIP_TOP_BOTTOM if turned else Image.Transpose.FLIP_LEFT_RIGHT
    on_back = print_side(back_file, back_error).transpose(flip)
    for spot in spots:
        one, other = find_dot(on_front, spot), find_dot(on_back, spot)
        apart = math.hypot(one.x - other.x, one.y - other.y)
        assert apart <= 0.2, (spot, apart)
        # And both where the file says, but for what the eye cannot read.
        assert math.hypot(one.x - spot.x, one.y - spot.y) <= 0.25


def blank(sheet: Size) -> Image.Image:
    return Image.new("L", (round(sheet.width * PX), round(sheet.height * PX)), 255)


def dot(image: Image.Image, at: Point) -> None:
    """A soft dot whose centroid is exactly at a place."""
    rows, columns = np.mgrid[-12:13, -12:13]
    x, y = at.x * PX - 0.5, at.y * PX - 0.5
    left, top = round(x), round(y)
    away2 = (columns + left - x) ** 2 + (rows + top - y) ** 2
    patch = Image.fromarray((255 - 230 * np.exp(-away2 / 18)).astype(np.uint8))
    image.paste(patch, (left - 12, top - 12))


def find_dot(image: Image.Image, near: Point) -> Point:
    reach = round(4 * PX)
    x, y = round(near.x * PX), round(near.y * PX)
    part = 255.0 - np.asarray(image.crop((x - reach, y - reach, x + reach, y + reach)), dtype=float)
    part[part < 25] = 0
    rows, columns = np.mgrid[0 : part.shape[0], 0 : part.shape[1]]
    total = part.sum()
    return Point(
        ((part * columns).sum() / total + x - reach + 0.5) / PX,
        ((part * rows).sum() / total + y - reach + 0.5) / PX,
    )


def test_an_affine_map_is_fitted_as_a_reference_library_does() -> None:
    # numpy.linalg.lstsq is the reference.
    rng = np.random.default_rng(5)
    points = rng.uniform(0, 400, (7, 2))
    images = points @ np.array([[1.01, 0.02], [-0.03, 0.99]]) + [3, -2] + rng.normal(0, 0.3, (7, 2))
    found = fit_affine([Point(*p) for p in points], [Point(*q) for q in images])
    design = np.column_stack([points, np.ones(7)])
    wanted, *_ = np.linalg.lstsq(design, images, rcond=None)
    ours = [[found.a, found.b], [found.c, found.d], [found.e, found.f]]
    assert np.allclose(ours, wanted, atol=1e-9)


def test_a_printer_that_is_right_changes_nothing() -> None:
    for sheet in SHEETS:
        misprint = find_misprint(Registration(), sheet, turns_heads=False)
        for map_ in (misprint.front, misprint.back):
            for spot in list_marks(sheet):
                moved = map_.apply(spot)
                assert math.hypot(moved.x - spot.x, moved.y - spot.y) < 1e-9


@pytest.mark.parametrize("sheet", SHEETS)
def test_how_the_back_lies_is_told_by_shift_turn_and_length(sheet: Size) -> None:
    """Readings made from a known map (affine geometry) give its parts back."""
    lies = spoil(sheet, right=0.4, down=-0.7, skew_deg=0.05, stretch=0.002)
    marks = list_marks(sheet)
    offsets = [Point(lies.apply(m).x - m.x, lies.apply(m).y - m.y) for m in marks]
    found = describe_lie(Registration(tuple(offsets)), sheet)
    assert (found.right, found.down) == pytest.approx((0.4, -0.7), abs=1e-9)
    assert found.turn_deg == pytest.approx(0.05, abs=1e-4)
    assert found.across == pytest.approx(0.002 * sheet.width, abs=1e-3)
    assert found.along == pytest.approx(0.001 * sheet.height, abs=1e-3)
