"""The tracked files of the checkout, for the tests that read the repository itself."""

import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="session")
def root() -> Path:
    return ROOT


@pytest.fixture(scope="session")
def tracked(root: Path) -> list[Path]:
    """All files that git knows, as they lie in the work tree."""
    listing = subprocess.run(
        ["git", "ls-files", "-z"], cwd=root, check=True, capture_output=True, text=True
    ).stdout
    paths = [root / name for name in listing.split("\0") if name]
    assert paths, "git lists no files here"
    return [path for path in paths if path.is_file()]


@pytest.fixture(scope="session")
def modules(root: Path) -> list[Path]:
    """Wayfold's own Python modules."""
    return sorted((root / "src" / "wayfold").rglob("*.py"))
