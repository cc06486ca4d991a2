"""Where a gauge lies: a band over the rounds of a pair, with everything that speaks of it, as a small SVG plot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from ..planning.gauge.estimate import Estimate
from ..planning.gauge.observations import SOURCE_NAMES, GaugeObservation, What
from ..planning.units import in_tenths
from .plot import even_steps, line, words

WIDE, HIGH = 320.0, 220.0
LEFT, RIGHT, TOP, BOTTOM = 40.0, 14.0, 14.0, 42.0
"""The plot in its own units, and the room beside its field."""

ASSUMED_ROOM = 34.0
"""The room at the left of the field for what was assumed before the first round."""

APART = 30.0
"""Words below the field are at least so far from each other."""


@dataclass(frozen=True)
class Band:
    """An estimate with what was planned; `factor` turns what is over 10 cm into what is over another length."""

    what: What
    estimate: Estimate
    planned: float
    factor: float = 1.0
    over: str = "10 cm"

    @property
    def low(self) -> float:
        """The lowest gauge in the plot."""
        return min(self.planned, self.estimate.low, *(seen.per_10cm - seen.give_or_take for seen in self.shown)) - 0.5

    @property
    def high(self) -> float:
        """The highest gauge in the plot."""
        return max(self.planned, self.estimate.high, *(seen.per_10cm + seen.give_or_take for seen in self.shown)) + 0.5

    @property
    def shown(self) -> tuple[GaugeObservation, ...]:
        """What has a mark of its own: what is only calculated from the stitches has none."""
        return tuple(seen for seen in self.estimate.seen if seen.kind != "stitches")

    @property
    def last(self) -> int:
        """The last round of the plot."""
        return max((seen.round or 0 for seen in self.shown), default=0) or 1

    def x(self, seen_at: int | None) -> float:
        """Where a round lies; what was assumed lies before the first."""
        begin = LEFT + ASSUMED_ROOM
        return LEFT + ASSUMED_ROOM / 2 if seen_at is None else begin + (WIDE - RIGHT - 8 - begin) * seen_at / self.last

    def y(self, per_10cm: float) -> float:
        """Where a gauge lies."""
        return TOP + (HIGH - TOP - BOTTOM) * (self.high - per_10cm) / (self.high - self.low)

    def number(self, per_10cm: float) -> str:
        """A gauge over the length of the plot."""
        return in_tenths(per_10cm * self.factor)


def band_svg(band: Band) -> Markup:
    """The band with the planned gauge and a mark for each check; in words for those who do not see it."""
    name = f"band-{band.what}"
    return Markup(
        '<svg class="plot" viewBox="0 0 {:.0f} {:.0f}" role="img" aria-labelledby="{}">'
        '<title id="{}">{}</title>{}</svg>'
    ).format(WIDE, HIGH, name, name, _describe_band(band), Markup("").join(_drawn(band)))


def _describe_band(band: Band) -> str:
    estimate = band.estimate
    parts = [
        f"{band.what.capitalize()} over {band.over}, planned {band.number(band.planned)}: "
        f"between {band.number(estimate.low)} and {band.number(estimate.high)}."
    ]
    for seen in band.shown:
        when = "Before the first round" if seen.round is None else f"After {seen.round} rounds"
        aside = "" if seen.counts else ", not counted"
        parts.append(f"{when}: {band.number(seen.per_10cm)}, give or take {band.number(seen.give_or_take)}{aside}.")
    return " ".join(parts)


def _drawn(band: Band) -> Iterator[Markup]:
    left, right, bottom = LEFT, WIDE - RIGHT, HIGH - BOTTOM
    estimate = band.estimate
    # Where the gauge drifts, the estimate is that of the newest rounds alone.
    begin = band.x(band.last) - ASSUMED_ROOM if estimate.drifting else left
    top = band.y(estimate.high)
    yield Markup('<rect class="band" x="{:.1f}" y="{:.1f}" width="{:.1f}" height="{:.1f}"/>').format(
        begin, top, right - begin, band.y(estimate.low) - top
    )
    for value in even_steps(band.low * band.factor, band.high * band.factor, 6):
        y = band.y(value / band.factor)
        yield line("grid", left, y, right, y)
        yield words(f"{value:g}", left - 6, y + 5, "end")
    yield line("planned", left, band.y(band.planned), right, band.y(band.planned))
    for seen in band.shown:
        yield from _mark(band, seen)
    yield from _rounds(band, bottom)


def _rounds(band: Band, bottom: float) -> Iterator[Markup]:
    yield words("rounds of the pair", (LEFT + ASSUMED_ROOM + WIDE - RIGHT) / 2, HIGH - 4, "middle")
    free_from = LEFT + ASSUMED_ROOM - APART / 2
    for seen_at in sorted({0, *(seen.round for seen in band.shown if seen.round)}):
        x = band.x(seen_at)
        if x >= free_from:
            yield words(seen_at, x, bottom + 18, "middle")
            free_from = x + APART


def _mark(band: Band, seen: GaugeObservation) -> Iterator[Markup]:
    x, y = band.x(seen.round), band.y(seen.per_10cm)
    off = seen.give_or_take
    yield line("error", x, band.y(seen.per_10cm - off), x, band.y(seen.per_10cm + off))
    if seen.kind in SOURCE_NAMES:
        kind = "assumed" if seen.counts else "uncounted"
        yield Markup('<rect class="{}" x="{:.1f}" y="{:.1f}" width="11" height="11"/>').format(kind, x - 5.5, y - 5.5)
    elif seen.kind == "tape":
        yield Markup('<path class="mark" d="M{:.1f} {:.1f}l7 12h-14Z"/>').format(x, y - 7)
    else:
        yield Markup('<circle class="mark" cx="{:.1f}" cy="{:.1f}" r="6"/>').format(x, y)
