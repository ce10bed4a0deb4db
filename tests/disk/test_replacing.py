"""A file is put in its place also where another program has that open for a moment (Windows)."""

from pathlib import Path

import pytest

from wayfold.base.errors import UserError
from wayfold.disk import replacing
from wayfold.disk.replacing import replace_file


@pytest.fixture
def files(tmp_path: Path) -> tuple[Path, Path]:
    fresh, target = tmp_path / "fresh", tmp_path / "target"
    fresh.write_bytes(b"new")
    target.write_bytes(b"old")
    return fresh, target


def hold_open(monkeypatch: pytest.MonkeyPatch, times: int, code: int | None) -> list[float]:
    """Refuse as Windows does; the pauses are noted and not made."""
    paused: list[float] = []
    replace = Path.replace

    def refuse(path: Path, target: Path) -> Path:
        if len(paused) < times:
            error = PermissionError(13, "Access is denied", str(target))
            error.winerror = code  # type: ignore[attr-defined, unused-ignore]
            raise error
        return replace(path, target)

    monkeypatch.setattr(Path, "replace", refuse)
    monkeypatch.setattr(replacing.time, "sleep", paused.append)
    return paused


@pytest.mark.parametrize("code", [5, 32, 33])
def test_whoever_reads_for_a_moment_is_waited_for(
    files: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    paused = hold_open(monkeypatch, 3, code)
    replace_file(*files)
    assert files[1].read_bytes() == b"new"
    assert not files[0].exists()
    assert len(paused) == 3


def test_a_viewer_that_does_not_let_go_is_told_of(
    files: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    paused = hold_open(monkeypatch, 99, 32)
    with pytest.raises(UserError, match="has it open") as caught:
        replace_file(*files)
    assert "Close it" in caught.value.remedy
    assert files[1].read_bytes() == b"old"
    assert sum(paused) < 2


def test_a_place_that_may_not_be_written_is_not_waited_for(
    files: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    paused = hold_open(monkeypatch, 99, None)
    with pytest.raises(PermissionError):
        replace_file(*files)
    assert paused == []
