"""House rules on the source text that import rules cannot see."""

import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import distribution, packages_distributions
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

MM_PER_INCH = 25.4
PT_PER_INCH = 72
PURE = (
    *("base", "book", "drawing", "trip", "story", "plan", "words", "layout", "maps", "pages"),
    *("case", "bench", "washes"),
)
CLOCK_CALLS = {"now", "utcnow", "today"}


def find_inch_numbers(tree: ast.AST) -> Iterator[int]:
    """Lines that hold 25.4, or that multiply or divide by 72."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and node.value == MM_PER_INCH:
            yield node.lineno
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult | ast.Div):
            for side in (node.left, node.right):
                if isinstance(side, ast.Constant) and side.value == PT_PER_INCH:
                    yield node.lineno


def find_clock_and_disk(tree: ast.AST) -> Iterator[int]:
    """Lines that ask ``datetime`` for the present, or open a file."""
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        match node.func:
            case ast.Name(id="open"):
                yield node.lineno
            case (
                ast.Attribute(attr=name, value=ast.Name(id="datetime" | "date"))
                | ast.Attribute(attr=name, value=ast.Attribute(attr="datetime" | "date"))
            ) if name in CLOCK_CALLS:
                yield node.lineno


def find_imports(tree: ast.AST) -> Iterator[str]:
    """Top-level names of everything that is imported absolutely."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name.split(".")[0] for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module.split(".")[0]


@pytest.mark.parametrize("text", ["x = 25.4", "y = pt / 72", "z = 72.0 * inches"])
def test_inch_numbers_are_seen(text: str) -> None:
    assert list(find_inch_numbers(ast.parse(text))) == [1]


@pytest.mark.parametrize(
    "text", ["datetime.now()", "datetime.datetime.utcnow()", "date.today()", "open('a')"]
)
def test_clock_and_disk_are_seen(text: str) -> None:
    assert list(find_clock_and_disk(ast.parse(text))) == [1]


def test_only_units_knows_inches_and_points(modules: list[Path]) -> None:
    found = [
        f"{path}:{line}"
        for path in modules
        if path.parts[-2:] != ("base", "units.py")
        for line in find_inch_numbers(ast.parse(path.read_text()))
    ]
    assert found == []


def test_pure_packages_ask_no_clock_and_open_no_file(root: Path, modules: list[Path]) -> None:
    found = [
        f"{path}:{line}"
        for path in modules
        if path.relative_to(root / "src" / "wayfold").parts[0] in PURE
        for line in find_clock_and_disk(ast.parse(path.read_text()))
    ]
    assert found == []


def test_everything_imported_is_declared(root: Path, modules: list[Path]) -> None:
    project = tomllib.loads((root / "pyproject.toml").read_text())["project"]
    declared = {
        canonicalize_name(Requirement(text).name)
        for text in [*project["dependencies"], *project["optional-dependencies"]["raw"]]
    }
    homes = packages_distributions()
    undeclared = {
        f"{path.name} imports {name}"
        for path in modules
        for name in find_imports(ast.parse(path.read_text()))
        if name != "wayfold" and name not in sys.stdlib_module_names
        if not declared & {canonicalize_name(home) for home in homes.get(name, [])}
    }
    # Starlette and Typing-extensions come with FastAPI and Pydantic and are part of their API.
    allowed = {"starlette", "typing_extensions"}
    assert {text for text in undeclared if text.split()[-1] not in allowed} == set()


def test_what_tests_import_is_locked(root: Path) -> None:
    locked = set(re.findall(r"(?m)^(\S+)==", (root / "requirements-dev.lock").read_text()))
    homes = packages_distributions()
    ours = {"wayfold", "tests", "tools", "building", "benchmarks", "proving"}
    # What writes the bill of materials runs in an environment that `make audit` makes for it.
    ours |= {"cyclonedx", "packageurl"}
    files = [
        path
        for name in ("tests", "tools", "benchmarks", "proving")
        for path in (root / name).rglob("*.py")
    ]
    unlocked = {
        f"{path.name} imports {name}"
        for path in files
        for name in find_imports(ast.parse(path.read_text()))
        if name not in ours and name not in sys.stdlib_module_names
        if not locked & {canonicalize_name(home) for home in homes.get(name, [])}
    }
    assert unlocked == set()


def test_no_strong_copyleft_at_run_time(root: Path) -> None:
    """What a person installs with Wayfold carries no GPL or AGPL code of its own."""
    lines = (root / "requirements.lock").read_text().splitlines()
    names = [line.split("==")[0] for line in lines if "==" in line and not line.startswith("#")]
    assert len(names) > 10
    for name in names:
        metadata = distribution(name).metadata
        claims = [metadata.get("License-Expression") or "", metadata.get("License") or ""]
        claims += [c for c in metadata.get_all("Classifier") or [] if c.startswith("License")]
        text = " ".join(claim[:200] for claim in claims).upper().replace("LGPL", "lesser")
        text = text.replace("LESSER GENERAL PUBLIC", "lesser")
        assert "GPL" not in text, (name, text)
        assert "GENERAL PUBLIC" not in text, (name, text)


def find_doors_words(tree: ast.AST) -> Iterator[int]:
    """Lines whose messages name a file of decisions or a command: that is for the door to say.

    Files by themselves, and files as the place of a fault ("book.toml, chapter 2"), are no such.
    """
    documented = {
        node.body[0].value
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    bare = {node.value for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant) or not isinstance(node.value, str):
            continue
        if node in documented or node in bare:
            continue
        names_file = re.search(r"[\w ] (?:\w+\.)+toml\b|\btoml\b.* ", node.value) and not re.match(
            r"\S+\.toml, ", node.value
        )
        if names_file or re.search(r"\bwayfold (?:\w+\b)(?! picture)", node.value):
            yield node.lineno


@pytest.mark.parametrize(
    "text", ['x = "Write it into trip.toml."', 'x = f"Make it first: wayfold make {y}"']
)
def test_doors_words_are_seen(text: str) -> None:
    assert list(find_doors_words(ast.parse(text))) == [1]


def test_remedies_say_what_and_doors_say_where(modules: list[Path]) -> None:
    """In ``base/mends.py`` each place has the files' words; the desk has others for it."""
    free = {"cli", "project", "demo", "desk"}
    found = [
        f"{path}:{line}"
        for path in modules
        if path.parts[-2:] != ("base", "mends.py") and not free & set(path.parts)
        for line in find_doors_words(ast.parse(path.read_text()))
    ]
    assert found == []
