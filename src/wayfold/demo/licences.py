"""Reads what a package's copyright file says of one of its files.

The form is Debian's machine-readable one (copyright-format/1.0): stanzas of fields, where the
last ``Files`` pattern that matches a path decides.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass

# Short names as Debian writes them; each lets anyone copy, change and pass on the picture.
FREE_LICENCES = frozenset(
    {
        "CC0-1.0",
        "CC-BY-4.0",
        "CC-BY-SA-3.0",
        "CC-BY-SA-4.0",
        "GPL-2+",
        "LGPL-2.1+",
        "LGPL-3",
    }
)


@dataclass(frozen=True, slots=True)
class LicenceEntry:
    """What one stanza says: for which file patterns, who holds the rights, the short licence."""

    patterns: tuple[str, ...]
    holders: tuple[str, ...]
    licence: str


def read_copyright(text: str) -> tuple[LicenceEntry, ...]:
    """Read the ``Files`` stanzas of a copyright file, in their order."""
    entries = []
    for stanza in re.split(r"\n\s*\n", text):
        files = _field(stanza, "Files")
        licence = _field(stanza, "License")
        if files is None or licence is None:
            continue
        holders = tuple(h.strip() for h in (_field(stanza, "Copyright") or "").splitlines())
        short = licence.splitlines()[0].strip()
        entries.append(LicenceEntry(tuple(files.split()), holders, short))
    return tuple(entries)


def find_licence(entries: tuple[LicenceEntry, ...], path: str) -> LicenceEntry | None:
    """Give the entry for an installed ``path``.

    Patterns name the file in the source package, which lies elsewhere than the installed one:
    the tails are compared, from the file name backwards.
    """
    best = None
    for entry in entries:
        if any(_matches(pattern, path) for pattern in entry.patterns):
            best = entry
    return best


def read_wallpaper_licence(metadata: str) -> str:
    """Give the short licence name that a desktop picture's own metadata.json states, or ""."""
    try:
        stated = json.loads(metadata)["KPlugin"]["License"]
    except (ValueError, KeyError, TypeError):
        return ""
    return re.sub(r"^(L?GPL)v(\d(?:\.\d)?)(\+?)$", r"\1-\2\3", str(stated))


def metadata_path(source: str) -> str:
    """Give where a desktop picture's metadata.json lies, or "" where it has none."""
    head, mark, _ = source.partition("/contents/images/")
    return f"{head}/metadata.json" if mark else ""


def _matches(pattern: str, path: str) -> bool:
    if pattern == "*":
        return True
    if pattern == "debian/*" or pattern.startswith("debian/"):
        return False
    # The last two parts are enough to tell the pictures of these packages apart; a folder that
    # the package drops when it installs ("16.04/") must not hide the file.
    name = pattern.rsplit("/", 1)[-1]
    if name in ("", "*"):
        return f"/{pattern.rstrip('*')}" in f"/{path}"
    regex = re.escape(name).replace(r"\*", ".*").replace(r"\?", ".")
    return re.fullmatch(regex, path.rsplit("/", 1)[-1]) is not None


def _field(stanza: str, name: str) -> str | None:
    match = re.search(rf"^{name}:[ \t]*(.*(?:\n[ \t].*)*)", stanza, re.MULTILINE)
    return match[1].strip() if match else None
