"""A translucent paper from four greys of a scan: the inverse of two-flux theory.

P. Kubelka 1948; the white and black patch method is that of ISO 22891. Greys are sRGB signals, IEC
61966-2-1.
"""

import json

import pytest

from wayfold.app.leaf_paper import measure_paper
from wayfold.base.errors import UserError
from wayfold.cli.main import run


def grey(light: float) -> float:
    return 255 * (1.055 * light ** (1 / 2.4) - 0.055)


def scan(r0: float, t: float, bright: float = 1.0) -> tuple[float, float, float, float]:
    """What a scanner of some brightness makes of paper 0.9 and ink 0.04, bare and covered."""
    seen = [r0 + t * t * g / (1 - r0 * g) for g in (0.9, 0.04)]
    white, black, over_white, over_black = (grey(v * bright) for v in (0.9, 0.04, *seen))
    return white, black, over_white, over_black


@pytest.mark.parametrize("bright", [1.0, 0.8, 1 / 0.9])
def test_the_sheet_comes_back_whatever_the_scanner_calls_white(bright: float) -> None:
    for r0, t in ((0.2, 0.75), (0.25, 0.68), (0.4, 0.55)):
        found = measure_paper(*scan(r0, t, bright))
        assert (found.reflectance, found.transmittance) == pytest.approx((r0, t), abs=1e-9)


def test_greys_that_cannot_be_are_refused_with_what_to_do() -> None:
    for greys in ((20, 240, 200, 90), (240, 20, 90, 200), (240, 20, 300, 90), (0, 0, 0, 0)):
        with pytest.raises(UserError, match="grey") as caught:
            measure_paper(*greys)
        assert "scanner" in str(caught.value)


def test_the_command_writes_what_book_toml_takes(capsys: pytest.CaptureFixture[str]) -> None:
    greys = [f"{v:.3f}" for v in scan(0.25, 0.68)]
    assert run(["translucent", *greys, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["reflectance"], told["transmittance"]) == (0.25, 0.68)
    # By hand: half within 0.2 tan 25 = 0.0933 mm is a deviation of 0.0792; exp(-2 (2 pi 0.0792)^2).
    assert told["letters"] == pytest.approx(0.610, abs=0.002)
    assert told["letters"] < told["shapes"] <= 1.0
    assert run(["translucent", *greys]) == 0
    assert "[translucent]\nreflectance = 0.25\ntransmittance = 0.68" in capsys.readouterr().out


def test_an_edge_tells_the_haze(capsys: pytest.CaptureFixture[str]) -> None:
    greys = [f"{v:.3f}" for v in scan(0.25, 0.68)]
    # Half within 2 tan 30 = 1.1547 mm is a deviation of 0.9807; an edge takes 2 x 1.2816 of that.
    assert run(["translucent", *greys, "--edge", "2.5137", "--over", "2", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["haze_deg"] == pytest.approx(30.0, abs=0.1)
    assert run(["translucent", *greys, "--edge", "20", "--over", "2"]) == 2
    assert "two boards" in capsys.readouterr().err
