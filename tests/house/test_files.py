"""House rules on the files of the repository: our own rules, so no outside source is named."""

import json
import re
from pathlib import Path

# Put together here, so that this file does not name the hosts it forbids.
REGISTRY_HOSTS = (
    "pypi" + ".org",
    "python" + "hosted.org",
    "npm" + "js.org",
    "npm" + "js.com",
    "yarn" + "pkg.com",
    "deb.debian" + ".org",
    "security.debian" + ".org",
    "crates" + ".io",
    "proxy.go" + "lang.org",
)
ADDRESS = re.compile(r"https?:|file:|git\+|--(extra-)?index-url|--find-links|--trusted-host")
MAX_MODULE_LINES = 400


def test_no_module_outgrows_its_budget(modules: list[Path]) -> None:
    sizes = {str(path): len(path.read_text().splitlines()) for path in modules}
    assert {name: size for name, size in sizes.items() if size > MAX_MODULE_LINES} == {}


def test_tracked_files_name_no_registry(tracked: list[Path]) -> None:
    named = [
        (path.name, host)
        for path in tracked
        for host in REGISTRY_HOSTS
        if host in path.read_text(errors="replace").lower()
    ]
    assert named == []


def test_no_two_files_differ_by_capitals_only(root: Path, tracked: list[Path]) -> None:
    """On Windows and macOS they would be one file."""
    names = [path.relative_to(root).as_posix().casefold() for path in tracked]
    assert sorted(set(names)) == sorted(names)


def test_git_holds_no_binary_files(tracked: list[Path]) -> None:
    def is_text(path: Path) -> bool:
        data = path.read_bytes()
        try:
            data.decode("utf-8")
        except UnicodeDecodeError:
            return False
        return b"\0" not in data

    assert [str(path) for path in tracked if not is_text(path)] == []


def test_python_locks_hold_hashes_and_no_address(root: Path) -> None:
    for name in ("requirements.lock", "requirements-dev.lock"):
        text = (root / name).read_text()
        assert ADDRESS.search(text) is None, name
        assert str(root) not in text, name
        blocks = re.split(r"\n(?=\S)", re.sub(r"(?m)^#.*\n", "", text))
        assert len(blocks) > 10, name
        for block in blocks:
            assert re.match(r"[a-z0-9._-]+==\S+ (; [^\n]+ )?\\\n", block), block[:80]
            assert "--hash=sha256:" in block, block[:80]


def test_run_time_lock_is_part_of_the_test_lock(root: Path) -> None:
    def pins(name: str) -> set[str]:
        return set(re.findall(r"(?m)^(\S+==\S+)", (root / name).read_text()))

    assert pins("requirements.lock") <= pins("requirements-dev.lock")


def test_npm_lock_holds_hashes_and_no_address(root: Path) -> None:
    text = (root / "desk-ui" / "package-lock.json").read_text()
    assert ADDRESS.search(text) is None
    packages = json.loads(text)["packages"]
    locked = {name: entry for name, entry in packages.items() if name}
    assert len(locked) > 10
    assert [name for name, entry in locked.items() if "integrity" not in entry] == []


def test_the_desks_type_is_of_one_scale(root: Path) -> None:
    """``shell/desk.css`` has the scale, in rem: it grows with the browser's own size of type.

    In px stand only figures within drawings, which grow with the drawing.
    """
    drawn = {"Strip.svelte": "normal 11px/14px", "Lines.svelte": "italic 6.4px"}
    found = [
        f"{path.name}: {said}"
        for path in sorted((root / "desk-ui" / "src").rglob("*"))
        if path.suffix in (".svelte", ".css")
        for said in re.findall(
            r"\bfont(?:-size)?: ([^;]*?\b[\d.]+px[^;]*);", path.read_text("utf-8")
        )
        if not re.match(r"(?:\w+ )?(?:max\()?var\(--\w+\)", said)
        if not said.startswith(drawn.get(path.name, "no drawing"))
    ]
    assert found == []
