"""A stacked picture of where time goes, as SVG, in the desk's colours and a serif."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

from benchmarks.timeline import ORDER

PAPER, INK, FAINT, HAIRLINE = "#faf8f4", "#2a2723", "#6f685e", "#d9d3c7"
COLOURS = dict(
    zip(
        ORDER,
        (
            *("#d9d3c7", "#b7b49a", "#7d8a70", "#cfa85f", "#9db4bd", "#8a3d2f"),
            *("#5b6b7d", "#b08a70", "#d8c3a5", "#8f877b", "#453f38", "#e0a898"),
        ),
        strict=True,
    )
)
WIDTH, MARGIN, NAMES, ENDS = 900, 28, 232, 76
BAR, STEP, SPACE = 24, 38, 34
KEYS_ACROSS, KEY_STEP = 4, 22
TICKS = 5


@dataclass(frozen=True, slots=True)
class Bar:
    """What was done, and seconds by stage."""

    name: str
    stages: Mapping[str, float]

    @property
    def seconds(self) -> float:
        """All of it."""
        return sum(self.stages.values())


def draw_bars(title: str, groups: Sequence[Sequence[Bar]]) -> str:
    """Give an SVG of groups of bars; the bars of each group are drawn at one scale of its own."""
    body: list[str] = []
    y = 64.0
    for bars in groups:
        body += _draw_group(bars, y)
        y += STEP * len(bars) + SPACE
    used = [s for s in ORDER if any(s in bar.stages for bars in groups for bar in bars)]
    body += _draw_keys(used, y)
    height = y + KEY_STEP * (-(-len(used) // KEYS_ACROSS)) + MARGIN
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height:.0f}" '
            f'width="{WIDTH}" height="{height:.0f}" font-family="Georgia, serif" font-size="14" '
            f'fill="{INK}" role="img" aria-label="{escape(title)}">',
            f'<rect width="{WIDTH}" height="{height:.0f}" fill="{PAPER}"/>',
            f'<text x="{MARGIN}" y="36" font-size="18">{escape(title)}</text>',
            *body,
            "</svg>",
            "",
        ]
    )


def _draw_group(bars: Sequence[Bar], top: float) -> Iterator[str]:
    longest = max(bar.seconds for bar in bars)
    left, room = MARGIN + NAMES, WIDTH - 2 * MARGIN - NAMES - ENDS
    foot = top + STEP * len(bars) - (STEP - BAR) / 2
    step = _choose_step(longest)
    for number in range(int(longest / step) + 1):
        at = number * step
        x = left + room * at / longest
        yield f'<path d="M{x:.1f} {top - 6:.1f}V{foot:.1f}" stroke="{HAIRLINE}"/>'
        yield (
            f'<text x="{x:.1f}" y="{foot + 13:.1f}" font-size="11" fill="{FAINT}" '
            f'text-anchor="middle">{at:g} s</text>'
        )
    for number, bar in enumerate(bars):
        y, x = top + STEP * number, float(left)
        yield (
            f'<text x="{left - 12}" y="{y + 17:.1f}" text-anchor="end">{escape(bar.name)}</text>'
        )
        for stage in ORDER:
            if stage in bar.stages:
                width = room * bar.stages[stage] / longest
                yield (
                    f'<rect x="{x:.2f}" y="{y:.1f}" width="{width:.2f}" height="{BAR}" '
                    f'fill="{COLOURS[stage]}"><title>{stage}: {bar.stages[stage]:.2f} s'
                    "</title></rect>"
                )
                x += width
        yield f'<text x="{x + 8:.1f}" y="{y + 17:.1f}">{bar.seconds:.3g} s</text>'


def _choose_step(longest: float) -> float:
    """Give a round number of seconds, so that there are at most ``TICKS`` of it."""
    ten = 10.0 ** math.floor(math.log10(longest / TICKS))
    return next(ten * n for n in (1, 2, 5, 10) if ten * n * TICKS >= longest)


def _draw_keys(stages: Sequence[str], top: float) -> Iterator[str]:
    across = (WIDTH - 2 * MARGIN) / KEYS_ACROSS
    for number, stage in enumerate(stages):
        x, y = MARGIN + across * (number % KEYS_ACROSS), top + KEY_STEP * (number // KEYS_ACROSS)
        yield f'<rect x="{x:.1f}" y="{y:.1f}" width="13" height="13" fill="{COLOURS[stage]}"/>'
        yield f'<text x="{x + 20:.1f}" y="{y + 11.5:.1f}" font-size="13">{escape(stage)}</text>'
