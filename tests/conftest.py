"""Settings for all tests, and a watch over photographs while they run."""

import contextlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

# A loaded machine must not fail a test: timing has no place here. The examples are the same on
# every run, so that a failure is the change's own; WAYFOLD_EXPLORE=1 looks for new ones.
settings.register_profile(
    "wayfold",
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize="WAYFOLD_EXPLORE" not in os.environ,
)
settings.load_profile("wayfold")

PICTURES = (".jpg", ".jpeg", ".png", ".tif", ".tiff", ".heic", ".heif", ".webp", ".gif", ".bmp")
RAW = (".dng", ".cr2", ".cr3", ".nef", ".arw", ".raf", ".orf", ".rw2")
WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
CHANGES = frozenset(("os.rename", "os.remove", "os.truncate", "os.chmod", "os.chown", "os.utime"))
SOURCE = f"{Path(__file__).parents[1] / 'src' / 'wayfold'}{os.sep}"
OURS = tuple(
    SOURCE + name.replace("/", os.sep)
    for name in ("demo/", "photos/trying.py", "app/doctor/crafts.py")
)
TESTS = f"{Path(__file__).parent}{os.sep}"
touched: list[str] = []
made: set[str | bytes] = set()


def _is_original(path: object) -> bool:
    """Whether a file is a photograph that is not one of Wayfold's own making."""
    if not isinstance(path, str | os.PathLike):
        return False
    name = os.fspath(path)
    if not isinstance(name, str) or not name.lower().endswith((*PICTURES, *RAW)):
        return False
    return not {".wayfold", "out", "cache"}.intersection(Path(name).parts)


def _who_asks() -> str:
    """Give Wayfold's own file that is at work, or nothing: a test's stand-in is not Wayfold."""
    frame = sys._getframe(2)
    while frame is not None:
        file = frame.f_code.co_filename
        if file.startswith(SOURCE):
            return file
        if file.startswith(TESTS):
            return ""
        frame = frame.f_back
    return ""


def _list_changed(event: str, given: tuple[object, ...]) -> tuple[object, ...]:
    """Give the paths that an event is about to change."""
    if event == "open":
        return given[:1] if isinstance(given[2], int) and given[2] & WRITES else ()
    if event == "os.rename":
        return given[:2]
    return given[:1] if event in CHANGES else ()


def _watch(event: str, given: tuple[object, ...]) -> None:
    for path in _list_changed(event, given):
        if not _is_original(path):
            continue
        asks = _who_asks()
        if not asks or asks.startswith(OURS):
            continue
        # What was not there before is of Wayfold's own making.
        name = os.fspath(path)
        if name in made or not os.path.lexists(name):
            made.add(name)
        else:
            touched.append(f"{event} {path} by {asks}")


sys.addaudithook(_watch)


@pytest.fixture(scope="session", autouse=True)
def _originals_untouched() -> Iterator[None]:
    """Nothing of Wayfold opens a photograph but for reading, moves it, or changes its times."""
    yield
    assert touched == []


@pytest.fixture(scope="session")
def atlantic(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The journey of ``tests/desk_book.py``, made once for all processes; tests take copies."""
    from tests.desk_book import write_book
    from wayfold.base.errors import ConflictError
    from wayfold.project.lock import hold_lock

    shared = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        shared = shared.parent
    whole = shared / "atlantic"
    while not whole.exists():
        # Making it may take longer than anybody waits for a lock: then one waits once more.
        with contextlib.suppress(ConflictError), hold_lock(shared / "atlantic.lock"):
            if not whole.exists():
                write_book(shared / "begun" / "atlantic").rename(whole)
    return whole
