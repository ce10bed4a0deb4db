"""A camera's clock read by the scenes that a telephone took too."""

import json
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw

from wayfold.app.new import begin_book
from wayfold.cli.main import run

START = datetime(2025, 5, 12, 8, 0)
ZONE = timedelta(hours=1)
FAST = timedelta(hours=5, minutes=33, seconds=20)


def paint_scene(number: int) -> Image.Image:
    """Rooftops of a kind: overlapping blocks of many greys, another town for every number."""
    rng = np.random.default_rng(number)
    scene = Image.new("RGB", (1200, 900), (150, 170, 200))
    draw = ImageDraw.Draw(scene)
    for _ in range(220):
        x, y = rng.integers(0, 1200), rng.integers(0, 900)
        w, h = rng.integers(20, 120, 2)
        draw.rectangle((x, y, x + w, y + h), fill=tuple(int(v) for v in rng.integers(30, 230, 3)))
    return scene


def save(picture: Image.Image, path: Path, shown: datetime, body: tuple[str, str, str], zone: str):
    exif = Image.Exif()
    exif[0x010F], exif[0x0110] = body[:2]
    fields = exif.get_ifd(0x8769)
    fields[0x9003], fields[0xA431] = shown.strftime("%Y:%m:%d %H:%M:%S"), body[2]
    if zone:
        fields[0x9011] = zone  # EXIF 2.31: OffsetTimeOriginal
    path.parent.mkdir(parents=True, exist_ok=True)
    picture.save(path, quality=88, exif=exif)


def begin_party(root: Path, shared: int) -> Path:
    """Eight pictures of each; of the camera's the first ``shared`` show the telephone's scenes."""
    for number in range(8):
        utc = START + timedelta(minutes=97 * number)
        scene = paint_scene(number)
        path = root / "photographs" / f"IMG_{number:04}.jpg"
        save(scene, path, utc + ZONE, ("Brook", "B2", "77"), "+01:00")
        other = scene if number < shared else paint_scene(100 + number)
        seen = other.rotate(1.5, Image.Resampling.BICUBIC).crop((100, 60, 1120, 840))
        darker = seen.point(lambda v: int(v * 0.8))
        at = utc + FAST + timedelta(seconds=12)
        path = root / "photographs" / f"DSC_{number:04}.jpg"
        save(darker, path, at, ("Halden", "H7", "6021"), "")
    begin_book(root, "A Day", [root / "photographs"])
    return root


def read_camera(root: Path, capsys: pytest.CaptureFixture[str]) -> dict:
    assert run(["clocks", str(root), "--json"]) == 0
    clocks = json.loads(capsys.readouterr().out)["clocks"]
    return next(c for c in clocks if c["camera"] == "Halden H7 6021")


def test_shared_scenes_tell_the_clock(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    root = begin_party(tmp_path / "book", shared=6)
    clock = read_camera(root, capsys)
    (row,) = [r for r in clock["evidence"] if r["kind"] == "one scene in two cameras"]
    assert (row["pieces"], row["agreeing"]) == (6, 6)
    assert clock["state"] in ("known", "known roughly")
    (span,) = clock["spans"]
    assert span["ahead_s"] == pytest.approx(FAST.total_seconds(), abs=60)
    assert read_camera(root, capsys) == clock  # kept marks say the same


def test_scenes_of_their_own_tell_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    clock = read_camera(begin_party(tmp_path / "book", shared=0), capsys)
    assert (clock["state"], clock["evidence"]) == ("not known", [])
