"""Zones of places are asked of the map once; what is kept is what the map gives."""

from pathlib import Path

import pytest

from wayfold.app import kept_zones
from wayfold.app.kept_zones import keep_zones
from wayfold.base.world import LonLat
from wayfold.project.files import BookFolder
from wayfold.trip.zones import ask_map, find_zone, find_zones

LISBON, OPEN_SEA = LonLat(-9.14, 38.72), LonLat(-30.0, 30.0)


def test_what_is_kept_is_not_asked_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = BookFolder(tmp_path)
    with keep_zones(folder):
        first = [find_zones(place) for place in (LISBON, OPEN_SEA)]
    assert first == [ask_map(LISBON), ask_map(OPEN_SEA)] == [("Europe/Lisbon",), ()]

    def refuse(place: LonLat) -> tuple[str, ...]:
        raise AssertionError(f"{place} was asked for again")

    monkeypatch.setattr(kept_zones, "ask_map", refuse)
    with keep_zones(folder):
        assert [find_zones(place) for place in (LISBON, OPEN_SEA)] == first
        assert (find_zone(LISBON), find_zone(OPEN_SEA)) == ("Europe/Lisbon", None)
        with pytest.raises(AssertionError, match="again"):
            find_zones(LonLat(2.35, 48.86))
    assert find_zones(LonLat(2.35, 48.86)) == ("Europe/Paris",)  # of the map, outside


def test_a_torn_record_is_asked_for_again(tmp_path: Path) -> None:
    folder = BookFolder(tmp_path)
    with keep_zones(folder):
        find_zones(LISBON)
    (file,) = (folder.cache / "zones").iterdir()
    file.write_bytes(file.read_bytes()[:-3])
    with keep_zones(folder):
        assert find_zones(LISBON) == ("Europe/Lisbon",)
