"""Projections against the worked examples of J. P. Snyder, Map Projections: A Working Manual
(USGS Professional Paper 1395, 1987), appendix A, and distortion against geodesics of GeographicLib.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from wayfold.maps.projection import (
    Extent,
    Projection,
    choose_projection,
    find_extent,
    join_extents,
    list_candidates,
)

CLARKE = "+ellps=clrk66 +units=m +no_defs"
SPHERE = "+R=1 +units=m +no_defs"

# Page of the numerical example, PROJ's name with the example's constants, longitude and latitude
# of the point, and Snyder's x and y.
SNYDER = {
    "Mercator, sphere (p. 266)": (
        f"+proj=merc +lon_0=-180 {SPHERE}", -75, 35, 1.8325957, 0.6528366,
    ),
    "transverse Mercator, ellipsoid (p. 269)": (
        f"+proj=tmerc +lon_0=-75 +lat_0=0 +k_0=0.9996 {CLARKE}", -73.5, 40.5, 127106.5, 4484124.4,
    ),
    "Albers, sphere (p. 291)": (
        f"+proj=aea +lat_1=29.5 +lat_2=45.5 +lat_0=23 +lon_0=-96 {SPHERE}",
        -75, 35, 0.2952720, 0.2416774,
    ),
    "Albers, ellipsoid (p. 292)": (
        f"+proj=aea +lat_1=29.5 +lat_2=45.5 +lat_0=23 +lon_0=-96 {CLARKE}",
        -75, 35, 1885472.7, 1535925.0,
    ),
    "Lambert conformal conic, sphere (p. 295)": (
        f"+proj=lcc +lat_1=33 +lat_2=45 +lat_0=23 +lon_0=-96 {SPHERE}",
        -75, 35, 0.2966785, 0.2462112,
    ),
    "Lambert conformal conic, ellipsoid (p. 296)": (
        f"+proj=lcc +lat_1=33 +lat_2=45 +lat_0=23 +lon_0=-96 {CLARKE}",
        -75, 35, 1894410.9, 1564649.5,
    ),
    "stereographic, oblique ellipsoid (p. 313)": (
        f"+proj=stere +lat_0=40 +lon_0=-100 +k_0=0.9999 {CLARKE}", -90, 30, 971630.8, -1063049.3,
    ),
    "Lambert azimuthal equal-area, sphere (p. 332)": (
        "+proj=laea +lat_0=40 +lon_0=-100 +R=3 +units=m +no_defs", 100, -20, -4.2339303, 4.0257775,
    ),
    "Lambert azimuthal equal-area, ellipsoid (p. 333)": (
        f"+proj=laea +lat_0=40 +lon_0=-100 {CLARKE}", -110, 30, -965932.1, -1056814.9,
    ),
}  # fmt: skip

AREAS = {
    "Iberia": Extent(-9.5, 36, 3.3, 43.8),
    "Norway": Extent(4.6, 58, 31, 71.2),
    "Chile": Extent(-75.7, -56, -66.4, -17.5),
    "Indonesia": Extent(95, -11, 141, 6),
    "Fiji": Extent(176.9, -19.2, 181.8, -16.1),
    "Svalbard": Extent(10, 76, 28, 81),
}


@pytest.mark.parametrize("example", SNYDER)
def test_projections_agree_with_snyder(example: str) -> None:
    definition, lon, lat, x, y = SNYDER[example]
    got_x, got_y = Projection(example, definition, 0.0).forward(np.array([lon]), np.array([lat]))
    # Snyder prints seven decimals on the sphere, a decimetre on the ellipsoid.
    exact = 1e-7 if abs(x) < 10 else 0.06
    assert got_x[0] == pytest.approx(x, abs=exact)
    assert got_y[0] == pytest.approx(y, abs=exact)


def test_there_and_back_again() -> None:
    for extent in AREAS.values():
        lons, lats = extent.sample()
        projection = choose_projection(extent)
        back_lon, back_lat = projection.inverse(*projection.forward(lons, lats))
        assert np.allclose(np.mod(back_lon - lons + 180.0, 360.0), 180.0, atol=1e-6)
        assert np.allclose(back_lat, lats, atol=1e-6)


def test_cones_touch_a_sixth_inside_the_range() -> None:
    """Deetz & Adams 1934; Snyder 1987, p. 99: 36 to 60 degrees give 40 and 56."""
    cones = [d for name, d in list_candidates(Extent(0, 36, 30, 60)) if "conic" in name]
    assert len(cones) == 2
    assert all("+lat_1=40.000000 +lat_2=56.000000" in definition for definition in cones)


@pytest.mark.parametrize("area", AREAS)
def test_the_chosen_projection_distorts_least(area: str) -> None:
    """The rule of thumb (azimuthal equal-area for all) is never beaten by less than nothing."""
    extent = AREAS[area]
    chosen = choose_projection(extent)
    lons, lats = extent.sample()
    for name, definition in list_candidates(extent):
        other = Projection(name, definition, extent.middle[0]).measure(lons, lats)
        assert chosen.distortion <= other + 1e-4, name


@pytest.mark.parametrize(("area", "kind"), [
    ("Chile", "transverse Mercator"), ("Iberia", "Lambert azimuthal equal-area"),
])  # fmt: skip
def test_shapes_get_what_cartographers_give_them(area: str, kind: str) -> None:
    """Snyder, pp. 33-35: tall areas transverse cylindrical, round ones azimuthal equal-area."""
    assert choose_projection(AREAS[area]).name == kind


def test_an_area_along_a_parallel_gets_a_cone() -> None:
    assert "conic" in choose_projection(Extent(-125, 38, -65, 47)).name  # Snyder, p. 34


@pytest.mark.parametrize("area", AREAS)
def test_distortion_is_what_geodesics_say(area: str) -> None:
    """The axes of the indicatrix from short geodesics (GeographicLib), not from PROJ's formulas."""
    extent = AREAS[area]
    projection = choose_projection(extent)
    lons, lats = extent.sample()
    lons, lats = lons[::37], lats[::37]
    axes = np.array([_measure_axes(projection, x, y) for x, y in zip(lons, lats, strict=True)])
    middle = np.median(np.sqrt(axes[:, 0] * axes[:, 1]))
    expected = math.sqrt(float((np.log(axes / middle) ** 2).sum(axis=1).mean() / 2))
    assert projection.measure(lons, lats) == pytest.approx(expected, abs=1e-5)


def _measure_axes(projection: Projection, lon: float, lat: float) -> tuple[float, float]:
    step = 500.0
    columns = []
    for azimuth in (90.0, 0.0):
        one = Geodesic.WGS84.Direct(lat, lon, azimuth, step)
        other = Geodesic.WGS84.Direct(lat, lon, azimuth + 180.0, step)
        x, y = projection.forward(
            np.array([one["lon2"], other["lon2"]]), np.array([one["lat2"], other["lat2"]])
        )
        columns.append([(x[0] - x[1]) / (2 * step), (y[0] - y[1]) / (2 * step)])
    a, b = np.linalg.svd(np.array(columns).T, compute_uv=False)
    return float(a), float(b)


def test_extents_go_over_the_date_line() -> None:
    extent = find_extent(np.array([177.0, 179.5, -179.0]), np.array([-19.0, -16.0, -17.0]))
    assert (extent.west, extent.east) == (177.0, 181.0)
    joined = join_extents([Extent(177, -19, 180, -16), Extent(-180, -18, -178, -17)])
    assert (joined.west, joined.east) == (177.0, 182.0)
    assert join_extents([Extent(-180, 0, 0, 1), Extent(0, 0, 180, 1)]).east == 180.0


def test_an_area_round_a_pole_is_centred_on_it() -> None:
    assert Extent(-180, 60, 180, 90).middle[1] == 90.0
    assert choose_projection(Extent(-180, 60, 180, 90)).name == "Lambert azimuthal equal-area"
