"""What is usual for each measure of case and sewing, and where that is said.

Where sources disagree the range is theirs, and the number Wayfold starts from lies within it.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Setting:
    """A key of book.toml, what is usual for it, and the sources of that."""

    key: str
    unit: str
    low: float
    high: float
    source: str

    @property
    def range(self) -> str:
        """The range in words: "2 to 5 mm"."""
        return f"{self.low:g} to {self.high:g} {self.unit}".rstrip()


SETTINGS = (
    Setting(
        "case.board_mm",
        "mm",
        1.0,
        4.0,
        "1.5 mm for light, 2 mm for general, 2.5 to 3 mm for large books (board makers' advice)",
    ),
    Setting(
        "case.square_mm",
        "mm",
        2.0,
        5.0,
        "3 mm (Indiana University Libraries, Book Repair Manual); 1/8 to 3/16 in (Vaughn, "
        "Printing and Bookbinding for Schools, 1912)",
    ),
    Setting(
        "case.board_less_mm",
        "mm",
        0.0,
        4.5,
        "3 to 4.1 mm in printers' and binders' rules for cases; 0 for tight joints (Vaughn 1912)",
    ),
    Setting(
        "case.joint_mm",
        "mm",
        3.0,
        11.0,
        "7 mm (class jig), 7.5 mm, 3/8 in, 10 mm for grooved joints; 3.2 mm for tight ones",
    ),
    Setting(
        "case.card_mm",
        "mm",
        0.25,
        0.8,
        "0.012 to 0.025 in (Roberts & Etherington, Bookbinding and the Conservation of Books, "
        "1982: inlay)",
    ),
    Setting(
        "case.turn_in_mm",
        "mm",
        10.0,
        20.0,
        "10 to 15 mm (Adam 1903), 5/8 in (class), 17 mm, 3/4 in (Vaughn 1912), 20 mm (trade)",
    ),
    Setting(
        "case.mitre_factor",
        "× board",
        1.0,
        2.0,
        "about one board from the corner (Vaughn 1912); 3 mm for a 2 mm board (a college's jig)",
    ),
    Setting("case.overlap_mm", "mm", 2.0, 5.0, "2 to 3 mm; common practice, no single source"),
    Setting(
        "case.cloth_on_board_mm",
        "mm",
        15.0,
        70.0,
        "a fifth to a quarter of the board; common practice. At least 19 mm (a quarter-cloth rule)",
    ),
    Setting(
        "case.mull_beyond_mm",
        "mm",
        25.0,
        50.0,
        "1 1/2 in on to each endpaper (Vaughn 1912); at least 1 1/4 in (Bailey 1916)",
    ),
    Setting(
        "case.pastedown_margin_mm",
        "mm",
        2.0,
        5.0,
        "3 mm on three sides (Indiana University Libraries, Book Repair Manual)",
    ),
    Setting(
        "case.endpaper_um",
        "µm",
        100.0,
        260.0,
        "90 to 170 g/m2 (McColl 2021) at a bulk of 1.1 to 1.35 cm3/g",
    ),
    Setting(
        "case.pressed_factor",
        "",
        0.9,
        1.15,
        "a well pressed pile is about the sum of its calipers; from memory. Measure the block",
    ),
    Setting(
        "sewing.kettle_mm",
        "mm",
        6.0,
        32.0,
        "1/4 in (Cockerell 1901), 10 mm (a college), 12 to 19 mm, up to 1 1/4 in (Vaughn 1912)",
    ),
    Setting("sewing.tape_mm", "mm", 6.0, 12.0, "common practice, no single source"),
    Setting(
        "sewing.thread_mm",
        "mm",
        0.2,
        1.0,
        "linen of 60/3 to 10/3; a diameter is measured by winding ten turns about a pencil",
    ),
    Setting(
        "sewing.swell_factor",
        "",
        0.3,
        1.0,
        "1 where paper is hard (all of the thread), about 0.5 where it beds in; there is no "
        "formula (Peachey): measure the sewn, pressed block",
    ),
    Setting(
        "pocket.strip_um",
        "µm",
        60.0,
        400.0,
        "any strong paper; strips needed = contents / strip (Roberts & Etherington: compensation "
        "guard)",
    ),
)
"""In the order of the file."""
