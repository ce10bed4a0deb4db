"""Lengths and resolutions. Millimetres inside; every other unit carries its name.

The only module that knows how many millimetres an inch or a point has.
"""

MM_PER_INCH = 25.4
PT_PER_INCH = 72.0
UM_PER_MM = 1000.0


def pt_from_mm(length: float) -> float:
    """Give a length in PDF points (1/72 inch) for one in millimetres."""
    return length * PT_PER_INCH / MM_PER_INCH


def mm_from_pt(length_pt: float) -> float:
    """Give a length in millimetres for one in PDF points (1/72 inch)."""
    return length_pt * MM_PER_INCH / PT_PER_INCH


def mm_from_um(length_um: float) -> float:
    """Give a length in millimetres for one in micrometres."""
    return length_um / UM_PER_MM


def px_from_mm(length: float, ppi: float) -> float:
    """Give the number of pixels (not rounded) that ``length`` mm take at ``ppi`` pixels an inch."""
    return length * ppi / MM_PER_INCH


def mm_from_px(length_px: float, ppi: float) -> float:
    """Give the length in mm of ``length_px`` pixels printed at ``ppi`` pixels an inch."""
    return length_px * MM_PER_INCH / ppi


def ppi_of(length_px: float, length: float) -> float:
    """Give the pixels an inch of ``length_px`` pixels spread over ``length`` mm."""
    return length_px * MM_PER_INCH / length
