"""A change of several files at once, failing at every call to the disk in turn, and on full disks.

Whatever fails, the files are wholly those of before or wholly those of after, the same change made
again ends well, and nothing is left lying about.
"""

import errno
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from proving.calls import Calls
from tests.small_disk import fill, mount_read_only, mount_small
from wayfold.base.errors import ConflictError, NotFoundError, UserError
from wayfold.disk.placing import PART, UNDER_WAY_S, write_whole
from wayfold.project import lock
from wayfold.project.broken_off import finish_broken_off
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.journal_notes import Kind, open_notes
from wayfold.project.journal_placing import GONE, NEXT, sweep
from wayfold.project.lock import hold_lock

BEFORE = {"book.toml": "old " * 50, "texts/a.md": "old", "texts/gone.md": "to go"}
AFTER = {"book.toml": "new " * 900, "texts/a.md": "new", "texts/fresh.md": "came"}
LEDGER = "printed.lock.toml"
REFUSALS = (errno.ENOSPC, errno.EIO, errno.ESTALE)
calls = Calls()


def write(root: Path, files: Mapping[str, str]) -> None:
    for name in {*BEFORE, *AFTER}:
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if name in files:
            path.write_text(files[name], encoding="utf-8")
        else:
            path.unlink(missing_ok=True)


def look(root: Path) -> dict[str, str]:
    names = [*{*BEFORE, *AFTER}, LEDGER]
    return {n: (root / n).read_text("utf-8") for n in names if (root / n).is_file()}


def begin(root: Path) -> BookFolder:
    open_notes.cache_clear()
    write(root, BEFORE)
    folder = BookFolder(root)
    write_whole(folder.ledger_file, b"none")
    Journal(folder).catch_up()
    return folder


def change(folder: BookFolder) -> None:
    """Three files get other contents, one comes, one goes, and the ledger changes with them."""
    beside = {folder.ledger_file: b"printed"}
    with Journal(folder).change("all of it", beside=beside) as draft:
        write(draft.root, AFTER)


BOTH = ({**BEFORE, LEDGER: "none"}, {**AFTER, LEDGER: "printed"})


def list_left(root: Path) -> list[str]:
    """Name what of broken work lies about, once all that is old has been swept."""
    for path in root.rglob(f".*{PART}"):
        old = time.time() - 2 * UNDER_WAY_S
        os.utime(path, (old, old))
    sweep(BookFolder(root))
    endings = (PART, NEXT, GONE)
    return [p.name for p in root.rglob(".*") if p.name.endswith(endings) or p.name == "draft"]


def list_kinds(folder: BookFolder) -> list[Kind]:
    return [entry.kind for entry in Journal(folder).entries]


def check_sound(folder: BookFolder) -> int:
    """Look again; the files are of before (0) or after (1), and nobody is said to have meddled."""
    open_notes.cache_clear()
    finish_broken_off(folder)
    now = look(folder.root)
    assert now in BOTH
    Journal(folder).catch_up()
    assert look(folder.root) == now
    at = BOTH.index(now)
    assert list_kinds(folder) == [Kind.NOTED, Kind.EDIT][: 1 + at]
    assert list_left(folder.root) == []
    return at


def count_calls(tmp_path: Path) -> int:
    folder = begin(tmp_path / "counted")
    with calls.armed(folder.root):
        change(folder)
    return calls.seen


@pytest.fixture
def quick(tmp_path: Path) -> Iterator[Path]:
    """A folder in memory, where there is one: a hundred changes are written through to it."""
    memory = Path("/dev/shm")
    if not (memory.is_dir() and os.access(memory, os.W_OK)):
        yield tmp_path
        return
    with tempfile.TemporaryDirectory(dir=memory, prefix="wayfold-") as name:
        yield Path(name)


def test_any_one_call_may_fail(quick: Path) -> None:
    count = count_calls(quick)
    assert count > 20
    met = [0, 0]
    for at in range(count):
        folder = begin(quick / str(at))
        number = REFUSALS[at % len(REFUSALS)]

        def refuse(number: int = number) -> None:
            raise OSError(number, os.strerror(number), "a file")

        try:
            with calls.armed(folder.root, at, refuse):
                change(folder)
        except UserError as error:
            assert error.remedy
        met[check_sound(folder)] += 1
        change(folder)
        assert look(folder.root) == BOTH[1]
        for _ in range(list_kinds(folder).count(Kind.EDIT)):
            Journal(folder).undo()
        assert {n: t for n, t in look(folder.root).items() if n != LEDGER} == BEFORE
        assert list_left(folder.root) == []
    assert min(met) > 0


def test_killed_at_any_call_it_is_before_or_after(quick: Path) -> None:
    """A program of its own ends (SIGKILL) at each of its calls in turn."""
    count = count_calls(quick)
    roots = [quick / f"killed {at}" for at in range(count)]
    for root in roots:
        begin(root)
    script = (
        "import os, signal, sys\n"
        "from pathlib import Path\n"
        "from tests.project.test_broken_off import calls, change, BookFolder\n"
        "for at, root in enumerate(sys.argv[1:]):\n"
        "    if os.fork() == 0:\n"
        "        die = lambda: os.kill(os.getpid(), signal.SIGKILL)\n"
        "        with calls.armed(Path(root), at, die):\n"
        "            change(BookFolder(Path(root)))\n"
        "        os._exit(0)\n"
        "    status = os.wait()[1]\n"
        "    assert os.WIFSIGNALED(status), (at, status)\n"
    )
    subprocess.run([sys.executable, "-c", script, *map(str, roots)], check=True)
    met = [0, 0]
    for root in roots:
        folder = BookFolder(root)
        met[check_sound(folder)] += 1
        change(folder)
        assert look(root) == BOTH[1]
    assert min(met) > 0


def test_what_was_changed_by_hand_after_a_broken_off_change_stays(quick: Path) -> None:
    """The change was noted, its files were not put in place, and then someone wrote another."""

    def die() -> None:
        raise KeyboardInterrupt

    count = count_calls(quick / "another")
    # The note is written late: the last third of the calls is where this may be.
    for at in range(2 * count // 3, count):
        folder = begin(quick / str(at))
        try:
            with calls.armed(folder.root, at, die):
                change(folder)
        except KeyboardInterrupt:
            pass
        if any(folder.root.glob(f".*{NEXT}")) and Journal(folder).count == 2:
            break
    else:
        pytest.fail("no such moment was met")
    (folder.root / "book.toml").write_text("by hand", encoding="utf-8")
    Journal(folder).catch_up()
    assert look(folder.root) == {**BOTH[1], "book.toml": "by hand"}
    assert list_kinds(folder) == [Kind.NOTED, Kind.EDIT, Kind.BY_HAND]
    Journal(folder).undo()
    assert look(folder.root)["book.toml"] == AFTER["book.toml"]
    assert list_left(folder.root) == []


def test_a_disk_that_fills_up_at_any_point(tmp_path: Path) -> None:
    """A real disk of 1 MB with ever more room left: writes are cut short wherever it is full."""
    met, told = [0, 0], []
    with mount_small(tmp_path / "disk", 1) as disk:
        for left in range(0, 100_000, 4096):
            root = disk / f"book {left}"
            folder = begin(root)
            filler = fill(disk, left)
            try:
                change(folder)
            except UserError as error:
                assert "disk is full" in error.what
                told.append("are to be written" in error.what and "are free" in error.what)
                assert look(root) == BOTH[0]
            filler.unlink()
            met[check_sound(folder)] += 1
            change(folder)
            assert look(root) == BOTH[1]
            for path in sorted(root.rglob("*"), reverse=True):
                path.rmdir() if path.is_dir() else path.unlink()
    assert min(met) > 0
    assert any(told)


def test_a_folder_that_cannot_be_written_to(tmp_path: Path) -> None:
    folder = begin(tmp_path / "book")
    with mount_read_only(folder.root):
        with pytest.raises(UserError, match="cannot be written") as told:
            change(folder)
        assert "copy the book folder" in told.value.remedy
        assert look(folder.root) == BOTH[0]
    change(folder)
    assert look(folder.root) == BOTH[1]


def test_a_drive_that_was_pulled_out(tmp_path: Path) -> None:
    """Nothing is made in the place where the book was; back again, all goes on."""
    folder = begin(tmp_path / "drive" / "book")
    folder.root.rename(tmp_path / "in the pocket")
    for act in (change, lambda f: Journal(f).undo(), lambda f: Journal(f).catch_up()):
        with pytest.raises(NotFoundError, match="folder is not there") as told:
            act(folder)
        assert "Connect the drive" in told.value.remedy
    assert list((tmp_path / "drive").iterdir()) == []
    (tmp_path / "in the pocket").rename(folder.root)
    change(folder)
    assert look(folder.root) == BOTH[1]


def test_a_clock_set_back_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = begin(tmp_path)
    write_whole(folder.texts / "a.md", b"today")
    Journal(folder).catch_up()
    years_ago = time.time() - 5 * 365 * 86_400
    monkeypatch.setattr(time, "time", lambda: years_ago)
    change(folder)
    os.utime(folder.texts / "a.md", (years_ago, years_ago))
    write_whole(folder.texts / "a.md", b"still later")
    os.utime(folder.texts / "a.md", (years_ago - 9, years_ago - 9))
    Journal(folder).catch_up()
    kinds = [Kind.NOTED, Kind.BY_HAND, Kind.EDIT, Kind.BY_HAND]
    assert list_kinds(folder) == kinds
    for _ in range(3):
        Journal(folder).undo()
    assert {n: t for n, t in look(folder.root).items() if n != LEDGER} == BEFORE


HOLDER = (
    "import sys, time\n"
    "from pathlib import Path\n"
    "from wayfold.project.lock import hold_lock\n"
    "sys.argv = ['/usr/bin/wayfold', 'make', '/a/secret/place']\n"
    "with hold_lock(Path({path!r})):\n"
    "    print('held', flush=True)\n"
    "    time.sleep(60)\n"
)


@pytest.fixture
def holder(tmp_path: Path) -> Iterator[subprocess.Popen[str]]:
    code = HOLDER.format(path=str(tmp_path / "lock"))
    with subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True) as held:
        assert held.stdout is not None
        assert held.stdout.readline() == "held\n"
        yield held
        held.kill()


def test_a_lock_says_who_holds_it_and_the_dead_let_go(
    tmp_path: Path, holder: subprocess.Popen[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lock, "PATIENCE_S", 0.3)
    with (
        pytest.raises(
            ConflictError, match=rf"by wayfold make \(process {holder.pid}\) since"
        ) as told,
        hold_lock(tmp_path / "lock"),
    ):
        pytest.fail("two hold it")
    assert "secret" not in str(told.value).replace(str(tmp_path), "")
    assert "machine" not in told.value.what
    holder.send_signal(signal.SIGKILL)
    holder.wait()
    with hold_lock(tmp_path / "lock"):
        pass
    assert (tmp_path / "lock").read_bytes() == b""


def test_a_holder_on_another_machine_is_told_soon(
    tmp_path: Path, holder: subprocess.Popen[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lock, "PATIENCE_AWAY_S", 0.2)
    path = tmp_path / "lock"
    path.write_text(path.read_text().replace('"machine": "', '"machine": "attic-'))
    began = time.monotonic()
    with pytest.raises(ConflictError, match="on the machine attic-"), hold_lock(path):
        pytest.fail("two hold it")
    assert time.monotonic() - began < lock.PATIENCE_S / 2
