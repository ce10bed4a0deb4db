"""Scale bars against geodesics of GeographicLib (C. F. F. Karney)."""

from __future__ import annotations

import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from wayfold.base.geometry import Rect
from wayfold.maps.projection import Extent, Projection, choose_projection
from wayfold.maps.scalebar import measure_bar
from wayfold.maps.sheet import Sheet, fit_sheet

ROOM = Rect(14, 14, 182, 269)


def lay(extent: Extent, projection: Projection | None = None) -> Sheet:
    lon, lat = extent.sample()
    return fit_sheet(projection or choose_projection(extent), lon, lat, ROOM)


@pytest.mark.parametrize(
    "extent",
    [
        Extent(4.6, 58, 31, 71.2),
        Extent(-75.7, -56, -66.4, -17.5),
        Extent(95, -11, 141, 6),
        Extent(176.9, -19.2, 181.8, -16.1),
        Extent(10, 76, 28, 81),
    ],
)
@pytest.mark.parametrize("leftwards", [False, True])
@pytest.mark.parametrize("miles", [False, True])
def test_a_bar_is_as_long_as_it_says(extent: Extent, leftwards: bool, miles: bool) -> None:
    sheet = lay(extent)
    x, y = (ROOM.right if leftwards else ROOM.x), ROOM.bottom
    bar = measure_bar(sheet, x, y, leftwards=leftwards, miles=miles)
    assert bar is not None
    end = x - bar.length if leftwards else x + bar.length
    lon, lat = sheet.to_ground(np.array([x, end]), np.array([y, y]))
    ground = Geodesic.WGS84.Inverse(lat[0], lon[0], lat[1], lon[1])["s12"]
    assert ground == pytest.approx(bar.metres, rel=1e-4)
    said = float(bar.text.split()[0].replace("\u202f", ""))
    said = float(bar.text.replace("\u202f", "").split()[0])
    assert said * (1609.344 if miles else 1000.0) == pytest.approx(bar.metres)
    assert 10.0 < bar.length < 43.0


def test_bars_grow_with_latitude_where_the_projection_does() -> None:
    """Mercator's scale goes with the secant of the latitude (Snyder, p. 44): 2 at 60 degrees."""
    mercator = Projection("Mercator", "+proj=merc +lon_0=0 +R=6371000 +units=m +no_defs", 0.0)
    sheet = lay(Extent(-10, -5, 10, 70), mercator)
    (_, at_0), (_, at_60) = (sheet.to_page(np.array([0.0]), np.array([lat])) for lat in (0.0, 60.0))
    low, high = (measure_bar(sheet, 20.0, float(y[0])) for y in (at_0, at_60))
    assert low is not None and high is not None
    assert (high.length / high.metres) / (low.length / low.metres) == pytest.approx(2.0, rel=0.01)


def test_there_is_no_bar_off_the_earth() -> None:
    extent = Extent(-180, -85, 180, 85)
    sheet = lay(extent, Projection("azimuthal", "+proj=ortho +lat_0=0 +lon_0=0 +R=6371000", 0.0))
    assert measure_bar(sheet, -500.0, 14.0) is None
    assert math.isfinite(sheet.scale)
