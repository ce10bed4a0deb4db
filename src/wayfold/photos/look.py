"""What a photograph looks like, as far as laying out and judging need to know it.

Places are fractions of the upright picture: (0, 0) its top left corner, (1, 1) its bottom right.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, SupportsIndex, overload

from wayfold.base.geometry import Rect

if TYPE_CHECKING:
    import numpy.typing as npt

MILLION = 1_000_000
_ONE = struct.Struct("<I")


@dataclass(frozen=True, slots=True)
class Face:
    """A face: its box, how sure the finder is (0-1), and where it looks.

    ``facing`` runs from -1 (to the picture's left) to 1 (to its right); 0 is straight or unknown.
    """

    box: Rect
    confidence: float
    facing: float = 0.0


class Shares(Sequence[float]):
    """Parts of a whole in millionths; of thousands of pictures, hundreds each lie in memory."""

    __slots__ = ("_millionths",)

    def __init__(self, millionths: bytes) -> None:
        """Hold whole numbers of four bytes each, the lowest first."""
        self._millionths = millionths

    @staticmethod
    def of(parts: Iterable[float]) -> Shares:
        """Give ``parts``, each rounded to a millionth."""
        import numpy as np  # late: a make with nothing to do does without

        whole = np.rint(np.asarray(tuple(parts), dtype=np.float64) * MILLION)
        return Shares(whole.astype("<u4").tobytes())

    def __len__(self) -> int:
        return len(self._millionths) // 4

    @overload
    def __getitem__(self, index: SupportsIndex) -> float: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[float, ...]: ...
    def __getitem__(self, index: SupportsIndex | slice) -> float | tuple[float, ...]:
        if isinstance(index, slice):
            return tuple(self)[index]
        at = index.__index__()
        try:
            (whole,) = _ONE.unpack_from(self._millionths, 4 * (at if at >= 0 else at + len(self)))
        except struct.error:
            raise IndexError(at) from None
        share: float = whole / MILLION
        return share

    def __iter__(self) -> Iterator[float]:
        values: list[float] = self.__array__().tolist()
        return iter(values)

    def __array__(self, dtype: Any = None, copy: bool | None = None) -> npt.NDArray[Any]:
        import numpy as np

        found = np.frombuffer(self._millionths, "<u4") / MILLION
        return found if dtype is None else found.astype(dtype, copy=bool(copy))

    def __bytes__(self) -> bytes:
        return self._millionths

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Shares) and self._millionths == other._millionths

    def __hash__(self) -> int:
        return hash(self._millionths)

    def __repr__(self) -> str:
        return f"Shares.of({list(self)})"


@dataclass(frozen=True, slots=True)
class Salience:
    """Where the eye goes: the shares of a grid's cells, row by row from the top; their sum is 1."""

    columns: int
    rows: int
    shares: Sequence[float]
    """Of what was measured they are ``Shares``."""

    @property
    def peak(self) -> tuple[int, int]:
        """The row and column of the cell that the eye goes to most, the first of equals."""
        import numpy as np

        return divmod(int(np.argmax(self.shares)), self.columns)

    def within(self, part: Rect) -> float:
        """Give the share that lies in ``part``; cells at its border count by their area in it."""
        inside = 0.0
        across = _list_shared(self.columns, part.x, part.right)
        for row, down in _list_shared(self.rows, part.y, part.bottom):
            for column, wide in across:
                inside += wide * down * self.shares[row * self.columns + column]
        return inside


@dataclass(frozen=True, slots=True)
class Tone:
    """One colour of a picture in OKLab, and the share of the picture that has about it."""

    share: float
    lightness: float
    a: float
    b: float


@dataclass(frozen=True, slots=True)
class Look:
    """What was measured of a picture.

    ``edge_px`` is the width of its sharp edges (10 to 90 % of their rise) in pixels of the
    upright picture at full size, where it matters: in faces, else where the eye goes; about 1.4
    in a sharp picture. ``noise`` is the standard deviation of L* (0-100) that grain makes in even
    parts, at the size that ``noise_px`` (pixels along the longer side) names. ``clipped`` is the
    share of what matters that is pure black or white; ``lightness`` the median L*. ``likeness`` is
    what ``photos.likeness`` compares, 16 hexadecimal digits.
    """

    faces: tuple[Face, ...]
    salience: Salience
    palette: tuple[Tone, ...]
    edge_px: float
    noise: float
    noise_px: int
    clipped: float
    lightness: float
    likeness: str = ""


def _list_shared(cells: int, low: float, high: float) -> list[tuple[int, float]]:
    """Give the cells of a line that lie between two places, each with the part of it that does."""
    shared = (
        (max(0.0, min((cell + 1) / cells, high) - max(cell / cells, low)) * cells, cell)
        for cell in range(cells)
    )
    return [(cell, part) for part, cell in shared if part > 0]
