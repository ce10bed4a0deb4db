"""Markdown becomes paragraphs; what cannot be printed is refused by file and line."""

import pytest

from wayfold.base.errors import UserError
from wayfold.book.state import Book
from wayfold.words.texts import style_texts


def style(text: str, key: str = "story", language: str = "en"):
    return style_texts(Book("B", language=language, texts={key: text})).get(key, ())


def test_paragraphs_are_set_as_the_style_says():
    first, second, third = style("One.\n\nTwo.\n\nThree.")
    assert (first.style.size_pt, first.style.leading_pt) == (10.5, 15.0)
    assert (first.style.align, first.style.hyphenate) == ("justify", True)
    assert first.style.figures == "old-style"
    # First paragraph flush, the rest indented by one em.
    assert [p.style.first_indent_pt for p in (first, second, third)] == [0.0, 10.5, 10.5]


def test_emphasis_is_italic_of_either_strength():
    (paragraph,) = style("A *b* and **c** and _d_.")
    assert [(r.text, r.italic) for r in paragraph.runs] == [
        ("A ", None),
        ("b", True),
        (" and ", None),
        ("c", True),
        (" and ", None),
        ("d", True),
        (".", None),
    ]


def test_headings_are_small_capitals_and_begin_anew():
    one, heading, two = style("One.\n\n## The *upper* valley\n\nTwo.")
    assert heading.style.small_caps and heading.style.tracking > 0
    assert heading.plain == "The upper valley"
    assert two.style.first_indent_pt == 0.0
    # Air above and below come to whole lines with the heading itself.
    lines = (heading.style.space_before_pt + two.style.space_before_pt) / one.style.leading_pt
    assert lines == int(lines)


def test_lists_quotations_breaks_and_code():
    paragraphs = style("- one\n- two\n\n3. three\n4. four\n\n> far *near*\n\n***\n\n    a\n    b")
    texts = [p.plain for p in paragraphs]
    assert texts[:4] == [
        "–\N{EN SPACE}one",
        "–\N{EN SPACE}two",
        "3.\N{EN SPACE}three",
        "4.\N{EN SPACE}four",
    ]
    quote = paragraphs[4]
    assert quote.style.italic
    assert quote.runs[1].italic is False
    assert paragraphs[5].style.align == "center"
    assert paragraphs[6].plain == "a\nb"


def test_hard_breaks_stay():
    (paragraph,) = style("one  \ntwo\nthree")
    assert [(r.text, r.line_break) for r in paragraph.runs] == [("one", True), ("two three", False)]


def test_entities_escapes_and_code_keep_their_letters():
    (paragraph,) = style(r"a \*b\* &amp; `c <d>` [e](https://example.org)")
    assert paragraph.plain == "a *b* & c <d> e"


@pytest.mark.parametrize(
    ("text", "line", "word"),
    [
        ("one\n\n<div>two</div>", 3, "HTML"),
        ("one\ntwo <b>three</b>", 2, "HTML"),
        ("one\n\n\ntwo\nthree ![x](y.jpg)", 5, "A picture"),
        ("<!-- hidden -->", 1, "HTML"),
    ],
)
def test_what_cannot_be_printed_names_its_line(text, line, word):
    with pytest.raises(UserError, match=word) as caught:
        style(text)
    assert caught.value.where == f"texts/story.md, line {line}"
    assert caught.value.remedy


def test_foreword_gets_a_heading_unless_it_has_one():
    heading, text = style("Once.", "foreword", "de")
    assert heading.plain == "Vorwort"
    assert text.style.first_indent_pt == 0.0
    heading, _ = style("# Before we left\n\nOnce.", "foreword")
    assert heading.plain == "Before we left"


def test_empty_texts_are_left_out():
    assert style_texts(Book("B", texts={"a": " \n", "b": "x"})).keys() == {"b"}


def test_footnotes_are_numbered_as_they_are_called_and_go_with_their_call():
    text = (
        'Rain[^b] and *snow*[^a], and rain again[^b].\n\n[^a]: "Late".\n\n[^b]: Much.\n\n    More.'
    )
    (paragraph,) = style(text)
    assert paragraph.plain == "Rain1 and snow2, and rain again1."
    calls = [r for r in paragraph.runs if r.superior]
    assert [(r.text, r.italic) for r in calls] == [("1", False), ("2", False), ("1", False)]
    assert [[p.plain for p in r.note] for r in calls] == [
        ["1\N{EN SPACE}Much.", "More."],
        ["2\N{EN SPACE}“Late”."],
        [],
    ]
    book = Book("B").style
    assert {p.style.size_pt for p in paragraph.notes} == {book.caption.size_pt}
    assert all(p.style.hyphenate and not p.style.italic for p in paragraph.notes)


def test_each_text_numbers_its_footnotes_anew():
    texts = {"a": "One[^x].\n\n[^x]: A.", "b": "Two[^9].\n\n[^9]: B."}
    styled = style_texts(Book("B", texts=texts))
    assert [styled[key][0].notes[0].plain[0] for key in ("a", "b")] == ["1", "1"]


def test_an_escaped_call_is_no_call():
    (paragraph,) = style(r"One\[^1].")
    assert paragraph.plain == "One[^1]."


@pytest.mark.parametrize(
    ("text", "line", "word"),
    [
        ("One.\n\nTwo[^1].", 3, "not written"),
        ("One.\n\n[^1]: Never called.", 3, "Nothing calls"),
        ("One[^1].\n\n[^1]: A.\n\n[^1]: B.", 5, "another footnote"),
        ("One[^1].\n\n[^1]: A[^2].\n\n[^2]: B.", 3, "called by another"),
        ("One[^1].\n\n[^1]: A <b>bold</b>.", 3, "HTML"),
        ("One[^1].\n\n[^1]: ![x](y.jpg)", 3, "A picture"),
        ("One[^1].\n\n[^1]:", 3, "says nothing"),
        ("One[^1].\n\n[^1]: -", 3, "says nothing"),
        ("One[^1].\n\n[^1]: [](x)", 3, "says nothing"),
    ],
)
def test_footnotes_that_cannot_be_set_name_their_line(text, line, word):
    with pytest.raises(UserError, match=word) as caught:
        style(text)
    assert caught.value.where == f"texts/story.md, line {line}"
    assert caught.value.remedy


def test_a_colophon_has_no_foot_for_footnotes():
    with pytest.raises(UserError, match="no foot"):
        style("Made at home[^1].\n\n[^1]: In winter.", "colophon")


def test_a_date_stays_on_its_line_also_where_the_file_breaks_it():
    (paragraph,) = style("We left on 27\nOctober at *7 h*.")
    assert paragraph.plain == "We left on 27\N{NO-BREAK SPACE}October at 7\N{NO-BREAK SPACE}h."


def test_lists_and_breaks_take_whole_lines_with_their_air():
    before, one, two, after = style("a\n\n- b\n- c\n\nd")
    assert [p.style.space_before_pt for p in (before, one, two, after)] == [0.0, 7.5, 0.0, 7.5]
    _, stars, after = style("a\n\n***\n\nb")
    assert [p.style.space_before_pt for p in (stars, after)] == [7.5, 7.5]
    # A list in a list is one with it.
    nested = style("- a\n    - b\n- c")
    assert [p.style.space_before_pt for p in nested] == [0.0, 0.0, 0.0]
