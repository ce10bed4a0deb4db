"""Files are replaced whole or not at all, and a refusing disk is explained."""

import os
from pathlib import Path

import pytest

from wayfold.base.errors import UserError
from wayfold.disk.placing import write_whole
from wayfold.project.cache import DiskCache, NumberCache, RecordCache


def test_a_file_is_replaced_and_no_litter_stays(tmp_path: Path) -> None:
    target = tmp_path / "sub" / "é 🏔.toml"
    write_whole(target, b"one")
    write_whole(target, b"two")
    assert target.read_bytes() == b"two"
    assert list(target.parent.iterdir()) == [target]


def test_a_failed_write_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "book.toml"
    write_whole(target, b"old")

    def full_disk(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full_disk)
    with pytest.raises(UserError, match="disk is full"):
        write_whole(target, b"new")
    assert target.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [target]


def test_a_place_that_refuses_is_explained(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied", str(tmp_path))

    monkeypatch.setattr("tempfile.mkstemp", refuse)
    with pytest.raises(UserError, match="cannot be written"):
        write_whole(tmp_path / "x", b"")


def test_a_name_that_no_disk_takes_is_explained(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="longer than this disk takes"):
        write_whole(tmp_path / ("x" * 300), b"")
    assert list(tmp_path.iterdir()) == []


def test_the_cache_gives_back_what_it_was_given(tmp_path: Path) -> None:
    cache = DiskCache(tmp_path, "stage", ".bin")
    assert cache.get("abcd") is None
    assert not cache.has("abcd")
    cache.put("abcd", b"1")
    assert cache.has("abcd")
    assert cache.get("abcd") == b"1"
    assert cache.path("abcd").name == "abcd.bin"


def test_numbers_are_kept_and_torn_lines_passed_over(tmp_path: Path) -> None:
    NumberCache(tmp_path, "measures").put({"a": 1.25, "b": 1e-9})
    NumberCache(tmp_path, "measures").put({"c": 3.0})
    file = tmp_path / "measures" / "numbers.txt"
    # A power cut tore the last line in the middle of its number; the next run wrote on.
    torn = file.read_text(encoding="ascii").removesuffix(".0 .\n")
    file.write_text(torn, encoding="ascii")
    later = NumberCache(tmp_path, "measures")
    assert (later.get("a"), later.get("b"), later.get("c")) == (1.25, 1e-9, None)
    later.put({"d": 4.5})
    again = NumberCache(tmp_path, "measures")
    assert (again.get("a"), again.get("b"), again.get("c")) == (1.25, 1e-9, None)
    assert again.get("unknown") is None


KEYS = [f"{n:032x}" for n in range(4)]


def test_records_come_back_whole_or_not_at_all(tmp_path):
    """A record is lost, cut off, or written over: it counts as not kept, the others stay."""
    cache = RecordCache(tmp_path, "looks", "one")
    assert cache.get(KEYS[0]) is None
    cache.put(KEYS[0], b"first")
    cache.put_all({KEYS[1]: b"second", KEYS[2]: b""})
    file = tmp_path / "looks" / "one.records"
    again = RecordCache(tmp_path, "looks", "one")
    assert [again.get(key) for key in KEYS] == [b"first", b"second", b"", None]
    whole = file.read_bytes()
    for length in range(len(whole)):
        file.write_bytes(whole[:length])
        cut = RecordCache(tmp_path, "looks", "one")
        found = [cut.get(key) for key in KEYS]
        assert all(a in (None, b) for a, b in zip(found, [b"first", b"second", b""], strict=False))
        cut.put(KEYS[3], b"later")
        assert RecordCache(tmp_path, "looks", "one").get(KEYS[3]) == b"later"
    for at in range(len(whole)):
        file.write_bytes(whole[:at] + b"?" + whole[at + 1 :])
        marred = RecordCache(tmp_path, "looks", "one")
        assert marred.get(KEYS[0]) in (None, b"first")
        assert marred.get(KEYS[1]) in (None, b"second")


def test_records_of_another_edition_are_not_taken_and_old_ones_let_go(tmp_path):
    for number, edition in enumerate(["one", "two", "three"]):
        cache = RecordCache(tmp_path, "looks", edition)
        assert cache.get(KEYS[0]) is None
        cache.put(KEYS[0], edition.encode())
        file = tmp_path / "looks" / f"{edition}.records"
        os.utime(file, (number, number))
    left = sorted(path.stem for path in (tmp_path / "looks").iterdir())
    assert left == ["three", "two"]
    assert RecordCache(tmp_path, "looks", "two").get(KEYS[0]) == b"two"
