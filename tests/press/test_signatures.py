"""Signatures of gatherings, as hand-press printers lettered them."""

import pytest

from wayfold.press.signatures import ALPHABET, signature_of


# STCV manual, collation formula: 23 letters without J, U and W. The places are counted from it;
# doubling after Z is common practice.
@pytest.mark.parametrize(
    ("gathering", "letters"),
    [
        (1, "A"),
        (9, "I"),
        (10, "K"),
        (20, "V"),
        (21, "X"),
        (23, "Z"),
        (24, "Aa"),
        (25, "Bb"),
        (46, "Zz"),
        (47, "Aaa"),
    ],
)
def test_letters(gathering: int, letters: str) -> None:
    assert signature_of(gathering) == letters


def test_alphabet() -> None:
    assert len(ALPHABET) == 23
    assert not set("JUW") & set(ALPHABET)
    assert len({signature_of(n) for n in range(1, 200)}) == 199


def test_gatherings_count_from_one() -> None:
    with pytest.raises(ValueError, match="from 1"):
        signature_of(0)
