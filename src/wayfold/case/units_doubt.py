"""Numbers that look as if they were written in another unit are questioned, never changed."""

from __future__ import annotations

from wayfold.base.findings import Finding, Severity
from wayfold.base.units import MM_PER_INCH
from wayfold.case.settings import Setting

BULK_LOW, BULK_HIGH = 0.6, 2.2
"""Between glossy coated paper and soft book wove lies the bulk (cm3/g) of paper; tracing paper has
some 0.8. From makers' tables."""


def question_value(setting: Setting, value: float) -> Finding | None:
    """Ask about a value outside of what is usual: inches, centimetres, or tenths taken for mm."""
    if setting.low <= value <= setting.high:
        return None
    guess = _guess_unit(setting, value)
    usual = f"usual is {setting.range} ({setting.source})"
    if guess is None:
        return Finding(
            "unusual-measure",
            Severity.WARN,
            setting.key,
            f"{value:g} {setting.unit} is outside of what is usual; {usual}.".replace("  ", " "),
            "Measure again, or leave it if it is meant.",
        )
    unit, meant = guess
    return Finding(
        "unit",
        Severity.BLOCK,
        setting.key,
        f"{value:g} looks like {unit}: this field wants {setting.unit}; {usual}.",
        f"If {unit} were meant, write {meant:g}.",
    )


def question_size(
    where: str, what: str, width: float, height: float, least: float
) -> Finding | None:
    """Ask about something so small that its measures must be inches or centimetres.

    ``least`` is what its longer side (mm) surely has.
    """
    if max(width, height) >= least:
        return None
    inch = f"{width * MM_PER_INCH:.1f} × {height * MM_PER_INCH:.1f} mm"
    cm = f"{width * 10:g} × {height * 10:g} mm"
    return Finding(
        "unit",
        Severity.BLOCK,
        where,
        f"{what} of {width:g} × {height:g} mm is too small to be meant.",
        f"In inches it would be {inch}, in centimetres {cm}: write millimetres.",
    )


def question_caliper(
    where: str, name: str, grammage_gsm: float, caliper_um: float
) -> Finding | None:
    """Ask about a caliper that no paper of that weight has; ten times off is the usual slip.

    Thickness over grammage is the bulk of a paper (ISO 534).
    """
    bulk = caliper_um / grammage_gsm
    if BULK_LOW <= bulk <= BULK_HIGH:
        return None
    low, high = BULK_LOW * grammage_gsm, BULK_HIGH * grammage_gsm
    message = (
        f"{name}: {caliper_um:g} µm at {grammage_gsm:g} g/m² is no paper's thickness; "
        f"{low:.0f} to {high:.0f} µm would be."
    )
    for factor, slip in ((10.0, "a tenth of"), (0.1, "ten times")):
        if BULK_LOW <= bulk * factor <= BULK_HIGH:
            return Finding(
                "caliper",
                Severity.BLOCK,
                where,
                message,
                f"It is probably {slip} what was meant: write {caliper_um * factor:g}. "
                "Or measure ten leaves pressed together, and divide by ten.",
            )
    return Finding(
        "caliper",
        Severity.WARN,
        where,
        message,
        "Measure ten leaves pressed together, and divide by ten.",
    )


def _guess_unit(setting: Setting, value: float) -> tuple[str, float] | None:
    """The unit that would bring a value into what is usual, and the value in the field's own."""
    if setting.unit == "µm":
        options = (("millimetres", 1000.0), ("a tenth of it", 10.0), ("ten times it", 0.1))
    elif setting.unit == "mm":
        options = (("inches", MM_PER_INCH), ("centimetres", 10.0), ("tenths of a millimetre", 0.1))
    else:
        return None
    for unit, factor in options:
        if setting.low <= value * factor <= setting.high:
            return unit, round(value * factor, 1)
    return None
