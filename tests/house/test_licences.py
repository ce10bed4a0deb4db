"""Licences are read from metadata (PEP 639, core metadata 2.4 and older), and GPL is refused."""

import json
import subprocess
import sys
import zipfile
from importlib.metadata import Distribution, PathDistribution
from pathlib import Path

import pytest

from tools import audit
from tools.audit import list_python
from tools.check_wheel import check_contents
from tools.licences import judge_claims, name_licences, read_distribution, read_npm


def make_package(folder: Path, header: str, files: dict[str, str]) -> Distribution:
    """A package as pip leaves it (PyPA, "Recording installed projects")."""
    info = folder / "thing-1.0.dist-info"
    info.mkdir(parents=True)
    (info / "METADATA").write_text(
        f"Metadata-Version: 2.4\nName: Thing\nVersion: 1.0\n{header}\n", "utf-8"
    )
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    (info / "RECORD").write_text("".join(f"{name},,\n" for name in files), "utf-8")
    return PathDistribution(info)


@pytest.mark.parametrize(
    ("expression", "said", "licences"),
    [
        ("MIT", ["ignored"], ("MIT",)),
        ("BSD-3-Clause AND (0BSD OR Zlib)", [], ("BSD-3-Clause", "0BSD", "Zlib")),
        ("", ["MIT License"], ("MIT",)),
        ("", ["BSD-3-Clause, Apache-2.0, dependency licenses"], ("BSD-3-Clause", "Apache-2.0")),
        ("", ["", "BSD License"], ()),
        ("", ["GNU Lesser General Public License v3 (LGPLv3)"], ("LGPL-3.0-only",)),
    ],
)
def test_licences_are_named(expression: str, said: list[str], licences: tuple[str, ...]) -> None:
    assert name_licences("thing", expression, said) == licences


@pytest.mark.parametrize(
    "claims",
    [
        ("GPL-3.0-only",),
        ("AGPL-3.0-or-later",),
        ("MIT", "GPL-2.0-or-later"),
        ("GNU General Public License v3 (GPLv3)",),
        ("My own terms",),
        (),
    ],
)
def test_what_will_not_do_is_refused(claims: tuple[str, ...]) -> None:
    assert list(judge_claims(claims))


def test_a_library_or_a_text_inside_gives_a_package_away(tmp_path: Path) -> None:
    gpl = "  GNU GENERAL PUBLIC LICENSE\n   Version 3, 29 June 2007\n"
    lesser = "GNU LESSER GENERAL PUBLIC LICENSE\n Version 3\n"
    clean = make_package(tmp_path / "a", "License: MIT", {"thing/LICENSE": lesser})
    assert read_distribution(clean).faults == ()
    assert read_distribution(clean).size_bytes == len(lesser)
    brings = make_package(tmp_path / "b", "License: MIT", {"thing.libs/libx265-9f.so": ""})
    assert "x265" in read_distribution(brings).faults[0]
    holds = make_package(tmp_path / "c", "License-Expression: MIT", {"thing/COPYING": gpl})
    assert "GPL" in read_distribution(holds).faults[0]
    # LGPL 3: "supplemented by the additional permissions listed below", so the GPL goes along.
    both = {"thing/COPYING": gpl, "thing/COPYING.LESSER": lesser}
    lgpl = make_package(tmp_path / "d", "License-Expression: LGPL-3.0-or-later", both)
    assert read_distribution(lgpl).faults == ()


def test_all_that_comes_with_wayfold_is_allowed(root: Path) -> None:
    if sys.version_info[:2] != (3, 11):
        pytest.skip("the lock is for Python 3.11")
    python = list_python()
    assert len(python) > 40
    modules = root / "desk-ui" / "node_modules"
    npm = list(read_npm(modules, ["svelte", "flag-icons", "@expo-google-fonts/spectral"]))
    assert [(one.name, one.faults) for one in (*python, *npm) if one.faults] == []


def test_a_wheel_that_lacks_its_fonts_is_refused(tmp_path: Path) -> None:
    wheel = tmp_path / "wayfold-1-py3-none-any.whl"
    with zipfile.ZipFile(wheel, "w") as archive:
        archive.writestr("wayfold/desk/static/index.html", "")
        archive.writestr("wayfold/desk/static/front/a.js", "")
    with pytest.raises(SystemExit, match="lacks wayfold/typeset/fonts"):
        check_contents(wheel, tmp_path / "none.tar.gz")


def answer(monkeypatch: pytest.MonkeyPatch, **package: object) -> None:
    """Have pip-audit say so (its own JSON format)."""
    told = {"dependencies": [{"name": "thing", "version": "1.0", **package}], "fixes": []}
    done = subprocess.CompletedProcess([], 0, json.dumps(told), "")
    monkeypatch.setattr(audit.subprocess, "run", lambda *_, **__: done)


def test_known_faults_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    answer(monkeypatch, vulns=[{"id": "CVE-1", "fix_versions": ["1.1"]}])
    assert list(audit.find_python_faults()) == ["thing 1.0: CVE-1, mended in 1.1"]
    answer(monkeypatch, vulns=[])
    assert list(audit.find_python_faults()) == []


def test_silence_is_not_taken_for_soundness(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    answer(monkeypatch, skip_reason="not found")
    with pytest.raises(ConnectionError, match="1 of 1"):
        list(audit.find_python_faults())
    monkeypatch.setattr(audit, "find_npm_faults", lambda _bundled: iter(()))
    assert audit.ask_for_faults([]) == audit.UNKNOWN
    assert "could NOT be asked for" in capsys.readouterr().out
