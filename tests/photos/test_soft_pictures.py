"""A picture blurred on purpose is measured as softer, whatever is in it.

Pictures by other people: tests/labelled_faces.toml, and geovisio as in test_likeness.py.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image, ImageFilter

from tests.fetching import fetch_sample
from tests.labelled_faces import fetch_pictures
from wayfold.photos.looking import see
from wayfold.photos.model import Photo, SizePx


def measure_edge(picture: Image.Image, folder: Path) -> float:
    path = folder / "picture.jpg"
    picture.save(path, quality=92)
    seen = see(Photo("a", "a", str(path), SizePx(*picture.size)))
    assert seen is not None
    return seen.look.edge_px


@pytest.mark.parametrize("name", ["sample1.jpg", "sample3.jpg", "b1.jpg", "d1.jpg", "e1.jpg"])
def test_blur_widens_the_edges(name, tmp_path):
    folder = fetch_sample("geovisio", "2.15.1", "tests/data")
    path = folder / name if (folder / name).exists() else fetch_pictures()[name]
    with Image.open(path) as image:
        picture = image.convert("RGB")
    widths = [
        measure_edge(
            picture.filter(ImageFilter.GaussianBlur(sigma)) if sigma else picture, tmp_path
        )
        for sigma in (0, 2, 4, 8)
    ]
    assert widths == sorted(widths)
    # Blurs add in squares: 4 px of blur alone make an edge 10.25 px wide.
    assert widths[2] > 8
    assert widths[3] > 1.2 * widths[2]
