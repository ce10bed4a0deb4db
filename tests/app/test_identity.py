"""Keys: what libraries are installed tells as Python itself does."""

from importlib import metadata
from pathlib import Path

import pytest

from wayfold.app import identity


def find_version(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return ""


def test_versions_are_those_that_python_finds() -> None:
    found = identity._list_versions()
    assert found["pydantic-core"] == metadata.version("pydantic_core")
    assert {name: found.get(name, "") for name in identity.LIBRARIES} == {
        name: find_version(name) for name in identity.LIBRARIES
    }


def test_the_first_place_tells_the_version(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for place, folder in (
        ("one", "typst-9.1.dist-info"),
        ("other", "typst-8.0.dist-info"),
        ("other", "Some_Thing.Else-1.0.post2-py3.11.egg-info"),
    ):
        (tmp_path / place / folder).mkdir(parents=True)
    places = [tmp_path / "gone", tmp_path / "one", tmp_path / "other"]
    monkeypatch.setattr("sys.path", [str(place) for place in places])
    assert identity._list_versions() == {"typst": "9.1", "some-thing-else": "1.0.post2"}
