"""Which code a function can reach: found by its imports, checked against Python's own reading."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from wayfold.app import code_files
from wayfold.app.code_reach import NAME, PACKAGE, function_key, list_imports, list_reached
from wayfold.layout.spreads import choose_ways
from wayfold.photos.looking import see


def read_imports(text):
    """Give what Python's own parser finds that a text imports of ours."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def test_all_imports_of_all_modules_are_found():
    modules = list(PACKAGE.rglob("*.py"))
    assert len(modules) > 300
    for path in modules:
        text = path.read_text("utf-8")
        ours = {name for name in read_imports(text) if name.split(".")[0] == NAME}
        assert ours <= set(list_imports(text)), path


def test_what_makes_looks_is_reached_and_what_does_not_is_not():
    reached = list_reached(see.__module__)
    for name in ("looking", "salience", "faces", "sharpness", "decode", "raw_pixels", "model"):
        assert f"photos/{name}.py" in reached
    for name in ("photos/derive.py", "photos/crop.py", "app/looks.py", "layout/grid.py"):
        assert name not in reached


def test_looks_hang_on_what_decodes_and_measures_alone():
    # Whatever else is reached has thousands of pictures looked at again when it is changed.
    reached = list_reached(see.__module__)
    assert {Path(name).parts[0] for name in reached} == {"__init__.py", "base", "photos"}
    base = {Path(name).stem for name in reached if name.startswith("base/")}
    assert base == {"__init__", "geometry", "world"}
    readers = {"captions", "catalogue", "crew", "exif", "facts", "iptc", "metadata", "xmp"}
    assert not {Path(name).stem for name in reached} & readers


@pytest.fixture
def anew(monkeypatch):
    """Give a way to have files read as if they were written anew."""

    def write(changed):
        plain = code_files.hash_bytes
        texts = {(PACKAGE / name).read_bytes(): text for name, text in changed.items()}
        monkeypatch.setattr(code_files, "hash_bytes", lambda data: plain(texts.get(data, data)))

    yield write
    forget()


def forget():
    function_key.cache_clear()
    code_files.hash_file.cache_clear()


@pytest.mark.parametrize(
    ("name", "looks", "ways"),
    [
        ("photos/salience.py", True, False),
        ("base/geometry.py", True, True),
        ("base/findings.py", False, True),
        ("layout/scatter.py", False, True),
        ("photos/derive.py", False, False),
    ],
)
def test_a_change_of_code_gives_another_key_to_what_it_has_a_part_in(anew, name, looks, ways):
    before = function_key(see), function_key(choose_ways)
    forget()
    anew({name: b"# other code"})
    after = function_key(see), function_key(choose_ways)
    assert [one != other for one, other in zip(before, after, strict=True)] == [looks, ways]
