"""photos.toml: only the tables that change are touched, and no comment is lost."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.errors import UserError
from wayfold.project.photos_file import HEAD, change_tables, read_tables
from wayfold.project.schema import PhotosFile

WRITTEN = (
    HEAD
    + """
# the best of the lot
[photo.aaa]   # from the ridge
file = "photographs/a.jpg"
content = "11"
caption = "Morning"  # ask Mother

[photo."bbb"]
file = 'photographs/b ü 🏔.jpg'
content = "22"
"""
)


def test_a_change_touches_its_table_only() -> None:
    after = change_tables(WRITTEN, {"aaa": {"caption": "Evening"}})
    assert after == WRITTEN.replace('"Morning"', '"Evening"')


def test_a_new_photograph_goes_to_the_end() -> None:
    after = change_tables(WRITTEN, {"ccc": {"file": "c.jpg", "content": "33", "crop": None}})
    assert after == WRITTEN + '\n[photo.ccc]\nfile = "c.jpg"\ncontent = "33"\n'


def test_none_takes_a_key_away() -> None:
    after = change_tables(WRITTEN, {"aaa": {"caption": None}})
    assert "caption" not in tomllib.loads(after)["photo"]["aaa"]
    assert "the best of the lot" in after


def test_an_empty_file_gets_its_head() -> None:
    assert change_tables("", {"a": {"file": "a.jpg"}}).startswith(HEAD)


def test_a_file_written_another_way_is_refused_and_not_torn() -> None:
    inline = 'version = 1\nphoto = {aaa = {file = "a.jpg", content = "1"}}\n'
    with pytest.raises((UserError, tomllib.TOMLDecodeError)):
        change_tables(inline, {"aaa": {"caption": "x"}})


fields = st.fixed_dictionaries(
    {"file": st.text(max_size=20), "content": st.text("0123456789abcdef", max_size=8)},
    optional={"caption": st.text(max_size=60), "alone": st.booleans()},
)
ids = st.text("0123456789abcdef", min_size=1, max_size=6)


@given(st.dictionaries(ids, fields, max_size=6), st.dictionaries(ids, fields, max_size=6))
def test_any_changes_read_back_as_meant(first: dict, second: dict) -> None:
    once = change_tables("", first)
    twice = change_tables(once, second)
    expected = {**first, **{k: {**first.get(k, {}), **v} for k, v in second.items()}}
    assert tomllib.loads(twice).get("photo", {}) == expected


PIECES = (
    '[photo.a]\nfile = "a.jpg"\ncontent = "1"\n',
    '[photo.b]  # mine\nfile = "b.jpg"\ncontent = "2"\npick = "hero"\n\n',
    '[photo."c"]\nfile = "c.jpg"\ncontent = "3"\ncrop = [0.1, 0.1, 0.5, 0.5]\n',
    '[photo.d]\nfile = "d.jpg"\ncontent = "4"\ncaption = """\n[photo.e]\nno table\n"""\n',
    '[ photo.f ]\nfile = "f.jpg"\ncontent = "6"\n',
    '[photo.g]\nfile = "g.jpg"\ncontent = "7"\nstars = 5\n',
    '[photo.h]\nfile = "h.jpg\ncontent = "8"\n',
    "[other]\nx = 1\n",
    "# a word between\n",
)


@given(
    st.lists(st.sampled_from(PIECES), max_size=7), st.sampled_from(("version = 1\n", "", "x = 1\n"))
)
def test_tables_read_one_by_one_are_those_of_the_whole(pieces: list[str], head: str) -> None:
    text = head + "".join(pieces)
    read = read_tables(text)
    if read is None:
        return  # the whole is read, and says what is wrong
    assert read == PhotosFile.model_validate(tomllib.loads(text)).photo


def test_a_plain_file_is_read_table_by_table() -> None:
    read = read_tables("version = 1\n\n" + "".join(PIECES[:3]))
    assert read is not None
    assert list(read) == ["a", "b", "c"]


def test_a_table_stands_beside_one_whose_id_is_none_of_ours() -> None:
    """TOML 1.0.0, keys: what is quoted may have any sign."""
    text = '[photo.aaa]\nfile = "a.jpg"\n[photo."b,5"]\nfile = "b.jpg"\n'
    after = tomllib.loads(change_tables(text, {"aaa": {"caption": "Noon"}}))
    assert after == {
        "photo": {"aaa": {"file": "a.jpg", "caption": "Noon"}, "b,5": {"file": "b.jpg"}}
    }
