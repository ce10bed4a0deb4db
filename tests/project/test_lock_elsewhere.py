"""The lock as Windows has it, with a stand-in for its module: "locking" in Microsoft's C runtime.

A byte that another has locked is refused with EACCES (at once) or EDEADLOCK (after ten tries).
"""

import errno
import importlib.util
import os
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from types import ModuleType, SimpleNamespace

import pytest

from wayfold.project import lock

NO_LOCKS = errno.EINVAL
LK_UNLCK, LK_LOCK, LK_NBLCK = 0, 1, 2


class LockedBytes:
    """Which file is locked by which handle."""

    def __init__(self) -> None:
        self._holders: dict[int, int] = {}
        self._guard = threading.Lock()

    def locking(self, handle: int, mode: int, count: int) -> None:
        assert count == 1
        file = os.fstat(handle).st_ino
        with self._guard:
            holder = self._holders.get(file)
            if mode == LK_UNLCK:
                if holder != handle:
                    raise OSError(errno.EACCES, "Permission denied")
                del self._holders[file]
            elif holder is None:
                self._holders[file] = handle
            else:
                code = errno.EDEADLK if mode == LK_LOCK else errno.EACCES
                raise OSError(code, "Permission denied")


def load_program(
    monkeypatch: pytest.MonkeyPatch, locking: Callable[[int, int, int], None]
) -> ModuleType:
    """The lock as a program of its own on Windows would load it."""
    names = {"LK_UNLCK": LK_UNLCK, "LK_LOCK": LK_LOCK, "LK_NBLCK": LK_NBLCK}
    monkeypatch.setitem(sys.modules, "msvcrt", SimpleNamespace(locking=locking, **names))
    spec = importlib.util.spec_from_file_location("lock_on_windows", lock.__file__)
    assert spec is not None
    assert spec.loader is not None
    program = importlib.util.module_from_spec(spec)
    with monkeypatch.context() as patch:
        patch.setattr(sys, "platform", "win32")
        spec.loader.exec_module(program)
    return program


def test_a_second_program_waits_for_the_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    locked = LockedBytes()
    first, second = (load_program(monkeypatch, locked.locking) for _ in range(2))
    entered = threading.Event()

    def enter() -> None:
        with second.hold_lock(tmp_path / "lock"):
            entered.set()

    waiting = threading.Thread(target=enter, daemon=True)
    with first.hold_lock(tmp_path / "lock"):
        waiting.start()
        assert not entered.wait(0.1)
    assert entered.wait(10)
    waiting.join(10)
    with first.hold_lock(tmp_path / "lock"):
        pass


def test_a_place_without_locks_is_used_without(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_handle: int, _mode: int, _count: int) -> None:
        raise OSError(NO_LOCKS, "Invalid argument")

    program = load_program(monkeypatch, refuse)
    entered = threading.Event()

    def enter() -> None:
        with program.hold_lock(tmp_path / "lock"):
            entered.set()

    threading.Thread(target=enter, daemon=True).start()
    assert entered.wait(10)
