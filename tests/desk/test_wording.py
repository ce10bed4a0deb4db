"""What is told at the desk names its own rooms and controls, and no path of the disk."""

import re
from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.mends import Mend
from wayfold.desk.wording import AT_THE_DESK, word_for_desk

TEXTS = Path(__file__).parents[2] / "desk-ui" / "src" / "texts" / "en"
PARTS = st.text("abcäé _.-0123456789", min_size=1, max_size=8).map(lambda p: f"x{p}x")
PATHS = st.lists(PARTS, min_size=2, max_size=5)


def read_labels(room: str = "*") -> set[str]:
    words = "".join(path.read_text("utf-8") for path in TEXTS.glob(f"{room}.ts"))
    return set(re.findall(r"'([^'\n]+)'", words))


@pytest.mark.parametrize("mend", Mend)
def test_what_mends_is_a_control_that_is_there(mend: Mend) -> None:
    words = AT_THE_DESK[mend]
    rooms = {
        label: name for name, label in re.findall(r"^ {4}(\w+): '([^']+)',", _rooms(), re.MULTILINE)
    }
    if words.endswith(", with an editor"):
        assert words == f"{mend}, with an editor"
        return
    room = next((name for label, name in rooms.items() if words.endswith(label)), "*")
    labels = read_labels(room) | read_labels("shell")
    assert set(re.findall("“([^”]+)”", words)) <= labels
    assert set(re.findall(r"under ([\w ]+) in ", words)) <= labels


def _rooms() -> str:
    return (TEXTS / "shell.ts").read_text("utf-8").split("room: {")[1].split("}")[0]


def test_a_remedy_names_the_room() -> None:
    assert word_for_desk(f"Make it first: {Mend.MAKE}.") == (
        "Make it first: “Make the print files” in Sheets."
    )


@pytest.mark.parametrize(
    ("where", "told"),
    [
        ("book.toml, chapter Porto", "chapter Porto"),
        ("book.toml, line 12", "book.toml, line 12"),
        ("book.toml, case.joint_mm", "book.toml, case.joint_mm"),
        ("texts/porto.md", "texts/porto.md"),
    ],
)
def test_a_file_is_named_only_to_who_wrote_it(where: str, told: str) -> None:
    assert word_for_desk(where) == told


@given(PATHS, st.sampled_from(["{}", "{}: is gone", "copy “{}” away", "a ({}) b", "see {} or {}"]))
def test_no_path_of_the_disk_is_told(parts: list[str], words: str) -> None:
    for path in (PurePosixPath("/", *parts), PureWindowsPath("C:\\", *parts)):
        told = word_for_desk(words.replace("{}", str(path)))
        assert not re.search(r"[/\\]", told)
        assert told.startswith(words.split("{}")[0])
        assert parts[-1] in told


@pytest.mark.parametrize(
    "words", ["either/or", "3/4 of 5 km/h, 1 / 2", "https://example.org/a/b", "190 g/m²", "/"]
)
def test_what_is_no_path_is_left(words: str) -> None:
    assert word_for_desk(words) == words
