"""A PDF's identity by ISO 32000-1, 14.4, read back with pypdf and checked by qpdf (pikepdf)."""

from __future__ import annotations

import pikepdf
import pypdf
import pytest

from wayfold.typeset.file_identity import write_identity

IDENTITY = "00112233445566778899aabbccddeeff"


@pytest.fixture(params=["table", "stream"])
def saved(request, tmp_path):
    """A PDF with the static identity, its objects listed in either of the two ways there are."""
    pdf = pikepdf.new()
    for number in range(40):
        page = pdf.add_blank_page()
        page.Contents = pdf.make_stream(b"%d 0 m" % number)
    path = tmp_path / "saved.pdf"
    modes = pikepdf.ObjectStreamMode
    mode = modes.generate if request.param == "stream" else modes.disable
    pdf.save(path, static_id=True, object_stream_mode=mode)
    return path


def test_both_parts_are_the_identity_of_a_new_file(saved):
    before = saved.stat().st_size
    write_identity(saved, IDENTITY)
    first, second = pypdf.PdfReader(saved).trailer["/ID"]
    # 14.4: "When a file is first written, both identifiers shall be set to the same value."
    assert bytes(first.original_bytes) == bytes(second.original_bytes) == bytes.fromhex(IDENTITY)
    assert saved.stat().st_size == before
    with pikepdf.open(saved) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert len(pdf.pages) == 40


def test_a_file_that_has_an_identity_keeps_it(saved):
    write_identity(saved, IDENTITY)
    data = saved.read_bytes()
    with pytest.raises(ValueError, match="no static identity"):
        write_identity(saved, IDENTITY[::-1])
    assert saved.read_bytes() == data


def test_an_identity_has_sixteen_bytes(saved):
    with pytest.raises(ValueError, match="32 digits"):
        write_identity(saved, "00")
