"""A JPEG that is cut is known by its markers, as its decoder knows it by decoding."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
import pyvips
from hypothesis import given
from hypothesis import strategies as st

from tests.photos.conftest import paint
from wayfold.photos.jpeg_file import has_whole_scans


def encode(progressive: bool) -> bytes:
    buffer = io.BytesIO()
    paint(320, 200).save(buffer, "JPEG", quality=90, progressive=progressive)
    return buffer.getvalue()


WHOLE = {False: encode(False), True: encode(True)}


def decodes(path: Path) -> bool:
    """Whether libjpeg gets to the end of the file's pixels."""
    try:
        pyvips.Image.jpegload(str(path), fail_on="truncated", access="sequential").avg()
    except pyvips.Error:
        return False
    return True


def test_third_party_files_are_judged_as_the_decoder_judges_them(pillow_images: Path) -> None:
    # The Pillow project's own test files: cut, odd, with and without thumbnails, several pictures.
    files = sorted(p for p in pillow_images.rglob("*") if p.suffix in (".jpg", ".jpeg", ".mpo"))
    doubtful = {p.name for p in files if not has_whole_scans(str(p))}
    assert len(files) > 40
    assert "truncated_jpeg.jpg" in doubtful
    assert not [p.name for p in files if p.name not in doubtful and not decodes(p)]
    # A doubt costs a decoding; only files with damage before the pixels raise one without need.
    assert {p.name for p in files if p.name in doubtful and decodes(p)} == {
        "junk_jpeg_header.jpg",
        "photoshop-200dpi-broken.jpg",
        "truncated_app14.jpg",
    }


@pytest.mark.parametrize("progressive", [False, True])
def test_a_whole_file_is_whole_with_fill_bytes_and_something_behind(
    tmp_path: Path, progressive: bool
) -> None:
    path, data = tmp_path / "a.jpg", WHOLE[progressive]
    end = data.rindex(b"\xff\xd9")
    for whole in (data, data + b"behind" * 9, data[:end] + b"\xff\xff" + data[end:]):
        path.write_bytes(whole)
        assert has_whole_scans(str(path))
        assert decodes(path)


@given(progressive=st.booleans(), kept=st.floats(0, 1), zeros=st.integers(0, 5000))
def test_a_cut_file_is_doubtful_wherever_the_cut(
    tmp_path_factory: pytest.TempPathFactory, progressive: bool, kept: float, zeros: int
) -> None:
    data = WHOLE[progressive]
    path = tmp_path_factory.getbasetemp() / "cut.jpg"
    path.write_bytes(data[: int(kept * (len(data) - 1))] + bytes(zeros))
    assert not has_whole_scans(str(path))


def test_a_file_without_a_scan_is_doubtful(tmp_path: Path) -> None:
    path = tmp_path / "none.jpg"
    path.write_bytes(b"\xff\xd8\xff\xd9")
    assert not has_whole_scans(str(path))
