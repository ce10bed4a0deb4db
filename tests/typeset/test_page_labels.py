"""Page labels: ISO 32000-1, 12.4.2, read back by qpdf's own reading of them."""

import pikepdf
import pytest

from wayfold.typeset.page_labels import make_labels


def read_back(labels: list[str]) -> list[str]:
    pdf = pikepdf.new()
    for _ in labels:
        pdf.add_blank_page()
    pdf.Root.PageLabels = make_labels(labels)
    return [page.label for page in pdf.pages]


@pytest.mark.parametrize(
    "labels",
    [
        ["1", "2", "3"],
        ["1", "2", "(3)", "(2)", "3", "4"],
        ["(1)", "(0)", "1", "2"],
        ["7", "7", "8", "10"],
        ["", "ii", "007", "²"],
    ],
)
def test_every_page_keeps_its_label(labels: list[str]) -> None:
    assert read_back(labels) == labels


def test_pages_that_count_on_are_one_range() -> None:
    # The standard's own way of saying it: place of the first page, then the range's dictionary.
    nums = make_labels([str(n) for n in range(1, 97)]).Nums
    assert len(nums) == 2
    assert (int(nums[0]), int(nums[1].St), str(nums[1].S)) == (0, 1, "/D")
