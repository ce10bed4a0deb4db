"""Soft proofs with a printer's profile, against another library's conversions.

The CMYK profile is a third party's (Graeme W. Gill, public domain), out of the imaging library's
package; that a screen's blue and green lie outside four printing inks' gamut, and that mid greys
lie within, is common knowledge of print (ISO 12647-2's inks). The intents are those of ISO 15076-1.
"""

import json
from pathlib import Path

import numpy as np
import pytest
import pyvips
from PIL import Image

from wayfold.base.errors import NotFoundError, UserError
from wayfold.checks.soft_proof import SIGNAL, PrinterProfile


def load(name: str) -> bytes:
    return bytes(pyvips.Operation.call("profile_load", name))


@pytest.fixture(scope="module")
def press() -> PrinterProfile:
    return PrinterProfile(load("cmyk"), "cmyk")


def plain(*colour: int) -> Image.Image:
    return Image.new("RGB", (16, 16), colour)


@pytest.mark.parametrize("colour", [(0, 0, 255), (0, 255, 0)])
def test_screen_blue_and_green_cannot_be_printed(
    press: PrinterProfile, colour: tuple[int, int, int]
) -> None:
    proof = press.prove(plain(*colour))
    assert proof.lost == 1.0
    assert proof.worst > 40
    assert proof.difference.getpixel((3, 3)) == SIGNAL


@pytest.mark.parametrize("grey", [90, 128, 200, 255])
def test_greys_can_be_printed(press: PrinterProfile, grey: int) -> None:
    proof = press.prove(plain(grey, grey, grey))
    assert proof.lost == 0.0
    assert np.abs(np.asarray(proof.shown, dtype=int) - grey).max() <= 6
    assert proof.difference.getpixel((3, 3)) != SIGNAL


def test_a_black_less_deep_is_shown_and_not_lost(press: PrinterProfile) -> None:
    proof = press.prove(plain(0, 0, 0))
    assert proof.lost == 0.0
    assert np.asarray(proof.shown).min() > 20


def test_half_a_page_is_half_lost(press: PrinterProfile) -> None:
    page = Image.new("RGB", (20, 20), (255, 255, 255))
    page.paste((0, 0, 255), (0, 0, 20, 10))
    assert press.prove(page).lost == pytest.approx(0.5)


def test_the_ink_is_what_another_library_gives(press: PrinterProfile) -> None:
    for colour in ((200, 40, 60), (20, 30, 25), (230, 220, 190)):
        image = pyvips.Image.black(16, 16, bands=3) + list(colour)
        image = image.cast("uchar").copy(interpretation="srgb")
        inks = image.icc_transform(
            "cmyk", input_profile="srgb", intent="relative", black_point_compensation=True
        )
        total = sum(inks.getpoint(3, 3)) / 2.55
        proof = press.prove(plain(*colour))
        assert proof.ink == pytest.approx(total, abs=3.0)
        assert proof.heavy == (1.0 if total > 300 else 0.0)


def test_a_printer_that_takes_rgb_hides_its_ink() -> None:
    proof = PrinterProfile(load("srgb"), "srgb").prove(plain(255, 0, 0))
    assert (proof.ink, proof.heavy, proof.lost) == (None, None, 0.0)
    assert proof.shown.getpixel((3, 3)) == (255, 0, 0)


def test_what_is_no_profile_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="no colour profile"):
        PrinterProfile(b"nonsense", "x.icc")
    with pytest.raises(NotFoundError, match="no such"):
        PrinterProfile.read(tmp_path / "missing.icc")


def test_the_command_proves_a_made_book(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from wayfold.cli.main import run

    assert run(["proof", str(book)]) == 2
    assert "profile" in capsys.readouterr().err
    text = (book / "book.toml").read_text(encoding="utf-8")
    (book / "book.toml").write_text(text + '\n[printer]\nprofile = "press.icc"\n', encoding="utf-8")
    assert run(["proof", str(book)]) == 2
    (book / "press.icc").write_bytes(load("cmyk"))
    capsys.readouterr()
    assert run(["proof", str(book), "--page", "1", "--json"]) == 0
    (page,) = json.loads(capsys.readouterr().out)["pages"]
    for key in ("shown", "difference"):
        size = Image.open(book / page[key]).size
        assert size == pytest.approx((909, 1286), abs=1)  # A4 at 110 ppi
    assert run(["proof", str(book), "--page", "4000"]) == 2
