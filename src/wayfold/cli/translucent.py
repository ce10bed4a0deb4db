"""``wayfold translucent``: a translucent paper from two patches."""

from __future__ import annotations

import click


@click.command("translucent")
@click.argument("white", type=float)
@click.argument("black", type=float)
@click.argument("over_white", type=float)
@click.argument("over_black", type=float)
@click.option(
    "--gap",
    type=click.FloatRange(0, 5),
    default=0.2,
    show_default=True,
    help="How far (mm) the sheet lies over the page in the book.",
)
@click.option(
    "--edge",
    type=click.FloatRange(0, min_open=True),
    help="How wide (mm) a sharp edge looks, from a tenth to nine tenths of its change, through the "
    "sheet held over it: measures the haze.",
)
@click.option(
    "--over",
    type=click.FloatRange(0, min_open=True),
    default=2.0,
    show_default=True,
    help="How far (mm) over that edge the sheet was held.",
)
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(
    white: float,
    black: float,
    over_white: float,
    over_black: float,
    gap: float,
    edge: float | None,
    over: float,
    as_json: bool,
) -> int:
    """Measure a translucent paper by four greys (0-255) read off one scan.

    WHITE and BLACK are the bare patches, OVER_WHITE and OVER_BLACK the same with the sheet on them.
    """
    from wayfold.app.leaf_paper import find_haze, measure_paper, see_detail
    from wayfold.cli.show import show_json

    sheet = measure_paper(white, black, over_white, over_black)
    found = {
        "reflectance": round(sheet.reflectance, 3),
        "transmittance": round(sheet.transmittance, 3),
    }
    kept = see_detail(gap)
    if edge is not None:
        found["haze_deg"] = round(find_haze(edge, over), 1)
        kept = see_detail(gap, found["haze_deg"])
    if as_json:
        show_json(found | kept)
    else:
        click.echo("Write into book.toml:\n\n[translucent]")
        for name, value in found.items():
            click.echo(f"{name} = {value}")
        click.echo(
            f"\nLying {gap:g} mm over the page, it leaves letters beneath {kept['letters']:.0%} of "
            f"their contrast, shapes of 5 mm {kept['shapes']:.0%}."
        )
    return 0
