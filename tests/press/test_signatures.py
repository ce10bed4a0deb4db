"""Signatures of gatherings, as hand-press printers lettered them."""

import pytest

from wayfold.press.signatures import ALPHABET, signature_of, write_collation


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


# Bowers (1949), pp. 196-254, 457-461, and the STCV manual: A-D with 8 leaves each are 32 leaves;
# A-C with 8 and D with 6 are 30. A folded sheet has two leaves.
@pytest.mark.parametrize(
    ("sheets", "formula"),
    [
        ((4, 4, 4, 4), "A-D⁸"),
        ((4, 4, 4, 3), "A-C⁸ D⁶"),
        ((2,), "A⁴"),
        ((3, 2, 3), "A⁶ B⁴ C⁶"),
        ((5,) * 24, "A-Aa¹⁰"),
    ],
)
def test_collation_formula(sheets: tuple[int, ...], formula: str) -> None:
    assert write_collation(sheets) == formula
