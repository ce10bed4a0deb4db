"""Reads the machine's own apt sources, in both forms that apt knows (sources.list(5))."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class AptSource:
    """One place that packages come from: its address, suites, components and further options.

    ``options`` are deb822 field names with their values, such as ("Signed-By", "/usr/…").
    """

    uri: str
    suites: tuple[str, ...]
    components: tuple[str, ...]
    options: tuple[tuple[str, str], ...] = ()


# Options of the one-line form and what deb822 calls them (sources.list(5)).
_OPTION_FIELDS = {
    "arch": "Architectures",
    "lang": "Languages",
    "trusted": "Trusted",
    "signed-by": "Signed-By",
    "check-valid-until": "Check-Valid-Until",
    "snapshot": "Snapshot",
}
_KEPT_FIELDS = frozenset(_OPTION_FIELDS.values()) - {"Architectures", "Languages"}
_ONE_LINE = re.compile(r"^deb\s+(?:\[(?P<options>[^\]]*)\]\s+)?(?P<uri>\S+)\s+(?P<rest>.+)$")


def read_machine_sources(etc: Path = Path("/etc/apt")) -> tuple[AptSource, ...]:
    """Give all binary package sources below ``etc``; a file that cannot be read is passed over."""
    lists = [etc / "sources.list", *sorted((etc / "sources.list.d").glob("*.list"))]
    found: list[AptSource] = []
    for path in lists:
        found.extend(parse_one_line(_text(path)))
    for path in sorted((etc / "sources.list.d").glob("*.sources")):
        found.extend(parse_deb822(_text(path)))
    return tuple(found)


def parse_one_line(text: str) -> tuple[AptSource, ...]:
    """Read the one-line form: ``deb [signed-by=…] address suite component…``."""
    found = []
    for line in text.splitlines():
        match = _ONE_LINE.match(line.split("#", 1)[0].strip())
        if match is None:
            continue
        suite, *components = match["rest"].split()
        pairs = (o.partition("=") for o in (match["options"] or "").split())
        options = ((_OPTION_FIELDS.get(k.lower(), ""), v.replace(",", " ")) for k, _, v in pairs)
        kept = tuple((k, v) for k, v in options if k in _KEPT_FIELDS)
        found.append(AptSource(match["uri"], (suite,), tuple(components), kept))
    return tuple(found)


def parse_deb822(text: str) -> tuple[AptSource, ...]:
    """Read the deb822 form: stanzas of ``Field: value``, parted by empty lines."""
    found: list[AptSource] = []
    for stanza in re.split(r"\n\s*\n", text):
        fields = _read_fields(stanza.splitlines())
        enabled = fields.get("enabled", "yes").lower() not in ("no", "false", "0", "off")
        if not enabled or "deb" not in fields.get("types", "").split():
            continue
        options = tuple((k, fields[k.lower()]) for k in sorted(_KEPT_FIELDS) if k.lower() in fields)
        suites = tuple(fields.get("suites", "").split())
        components = tuple(fields.get("components", "").split())
        found.extend(
            AptSource(uri, suites, components, options) for uri in fields.get("uris", "").split()
        )
    return tuple(found)


def write_deb822(sources: Iterable[AptSource]) -> str:
    """Write sources as deb822 stanzas."""
    stanzas = []
    for source in sources:
        lines = ["Types: deb", f"URIs: {source.uri}", f"Suites: {' '.join(source.suites)}"]
        if source.components:
            lines.append(f"Components: {' '.join(source.components)}")
        # A key written into the stanza has several lines; each goes on indented, "." when empty.
        lines += [f"{name}: " + value.replace("\n", "\n ") for name, value in source.options]
        stanzas.append("\n".join(lines) + "\n")
    return "\n".join(stanzas)


def _read_fields(lines: Iterable[str]) -> dict[str, str]:
    fields: dict[str, str] = {}
    name = ""
    for line in lines:
        if line.startswith("#"):
            continue
        if line[:1] in (" ", "\t") and name:
            fields[name] += "\n" + line.strip()
        elif ":" in line:
            head, _, value = line.partition(":")
            name = head.strip().lower()
            fields[name] = value.strip()
    return fields


def _text(path: Path) -> str:
    try:
        return path.read_text("utf-8", errors="replace")
    except OSError:
        return ""
