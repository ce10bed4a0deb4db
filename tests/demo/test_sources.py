"""apt's two forms of sources, as sources.list(5) gives them; machine-readable copyright files."""

from __future__ import annotations

from pathlib import Path

from wayfold.demo.licences import find_licence, read_copyright, read_wallpaper_licence
from wayfold.demo.packages import DEBIAN_SUITES, _wanted_sources
from wayfold.demo.sources import (
    AptSource,
    parse_deb822,
    parse_one_line,
    read_machine_sources,
    write_deb822,
)

ONE_LINE = """
# the mirror
deb [ arch=amd64,arm64 signed-by=/usr/share/a.gpg ] http://m.invalid/debian bookworm main contrib
deb-src http://m.invalid/debian bookworm main
deb http://m.invalid/security bookworm-security main # late
nonsense
"""
DEB822 = """
Types: deb deb-src
URIs: http://one.invalid/debian http://two.invalid/debian
Suites: bookworm bookworm-updates
Components: main
Signed-By:
 -----BEGIN PGP PUBLIC KEY BLOCK-----
 .
 mQINB
 -----END PGP PUBLIC KEY BLOCK-----

Enabled: no
Types: deb
URIs: http://three.invalid/debian
Suites: sid
Components: main

Types: deb-src
URIs: http://four.invalid/debian
Suites: sid
Components: main
"""


def test_one_line_form() -> None:
    first, second = parse_one_line(ONE_LINE)
    assert first.uri == "http://m.invalid/debian"
    assert first.suites == ("bookworm",)
    assert first.components == ("main", "contrib")
    assert first.options == (("Signed-By", "/usr/share/a.gpg"),)
    assert second.suites == ("bookworm-security",)


def test_deb822_form() -> None:
    found = parse_deb822(DEB822)
    assert [s.uri for s in found] == ["http://one.invalid/debian", "http://two.invalid/debian"]
    assert found[0].suites == ("bookworm", "bookworm-updates")
    (name, key), *_ = found[0].options
    assert name == "Signed-By"
    assert "mQINB" in key


def test_what_is_written_reads_back() -> None:
    found = parse_deb822(DEB822)
    assert parse_deb822(write_deb822(found)) == found


def test_both_places_of_the_machine_are_read(tmp_path: Path) -> None:
    (tmp_path / "sources.list.d").mkdir()
    (tmp_path / "sources.list").write_text("deb http://a.invalid stable main\n")
    (tmp_path / "sources.list.d" / "b.list").write_text("deb http://b.invalid stable main\n")
    (tmp_path / "sources.list.d" / "c.sources").write_text(DEB822)
    (tmp_path / "sources.list.d" / "d.list.disabled").write_text("deb http://d.invalid x main\n")
    hosts = [s.uri for s in read_machine_sources(tmp_path)]
    assert hosts[:2] == ["http://a.invalid", "http://b.invalid"]
    assert "http://d.invalid" not in hosts
    assert read_machine_sources(tmp_path / "nowhere") == ()


def test_a_debian_mirror_is_asked_for_both_suites() -> None:
    signed = (("Signed-By", "/k.gpg"),)
    machine = (
        AptSource("http://other.invalid", ("nodistro",), ("main",)),
        AptSource("http://m.invalid/debian", ("bookworm", "bookworm-updates"), ("main",), signed),
    )
    (wanted,) = _wanted_sources(machine)
    assert wanted == AptSource("http://m.invalid/debian", DEBIAN_SUITES, ("main",), signed)


def test_another_distribution_is_asked_for_its_own() -> None:
    machine = (AptSource("http://u.invalid", ("noble", "noble-updates"), ("main", "universe")),)
    assert _wanted_sources(machine)[0].suites == ("noble",)


COPYRIGHT = """Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/

Files: *
Copyright: 2020, Everybody
License: GPL-2+

Files: 16.04/hill_by_A.jpg
       16.04/lake*.jpg
Copyright: 2018, A
License: CC-BY-4.0

Files: debian/*
Copyright: 2014, Packager
License: Expat

License: CC-BY-4.0
 The text.
"""


def test_the_last_matching_stanza_decides() -> None:
    entries = read_copyright(COPYRIGHT)
    hill = find_licence(entries, "usr/share/backgrounds/hill_by_A.jpg")
    lake = find_licence(entries, "usr/share/backgrounds/lake 2.jpg")
    tree = find_licence(entries, "usr/share/backgrounds/tree.jpg")
    assert hill is not None and hill.licence == "CC-BY-4.0"
    assert hill.holders == ("2018, A",)
    assert lake is not None and lake.licence == "CC-BY-4.0"
    assert tree is not None and tree.licence == "GPL-2+"
    assert find_licence((), "x.jpg") is None


def test_licence_of_a_desktop_picture() -> None:
    assert read_wallpaper_licence('{"KPlugin": {"License": "LGPLv3"}}') == "LGPL-3"
    assert read_wallpaper_licence('{"KPlugin": {"License": "CC-BY-SA-4.0"}}') == "CC-BY-SA-4.0"
    assert read_wallpaper_licence("no json") == ""
    assert read_wallpaper_licence("[]") == ""
