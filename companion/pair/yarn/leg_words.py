"""How long the leg may become in words: each length with the sum behind it. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...planning.gauge.observations import per_10cm
from ...planning.recalculation.leg_length import LegReach, Reached
from ...planning.units import Unit, both_units, both_weights, show_length
from ...planning.yarn.forecast import YarnLeft
from .words import Figure, over, rate


def leg_figures(leg: LegReach, yarns: Sequence[YarnLeft], unit: Unit) -> Iterator[Figure]:
    """The legs that the yarn reaches for, and the one that is planned."""
    fewest = f"{leg.knitted} rounds, as many as are knitted," if leg.knitted > 1 else "1 round"
    limits = f"Allowed are {fewest} to {leg.most_allowed} rounds, which are {both_units(leg.cm(leg.most_allowed))}."
    for name, made, sure in (
        ("Sure to reach", leg.safe, "Even at the least, nothing is missing"),
        ("Should reach", leg.likely, "As calculated, nothing is missing"),
        ("Cannot reach beyond", leg.most, "At the most, nothing is missing"),
        ("Planned", leg.planned, None),
    ):
        if made is None or (made is leg.most and made.rounds == leg.most_allowed):
            continue
        more = f"{sure}; with one round more some would be." if made.rounds < leg.most_allowed else f"{sure}."
        length = show_length(leg.cm(made.rounds), unit)
        yield Figure(name, f"{made.rounds} rounds", length, (*_sums(leg, made, yarns), more if sure else limits))


def _sums(leg: LegReach, made: Reached, yarns: Sequence[YarnLeft]) -> Iterator[str]:
    yarn = next(one for one in yarns if one.key == made.yarn)
    yield f"{made.rounds} rounds at {per_10cm(leg.rounds_per_cm * 10)} are {both_units(leg.cm(made.rounds))}."
    yield (
        f"Both socks then have {made.ahead:,.0f} stitches {f'of yarn {made.yarn} ' if len(yarns) > 1 else ''}ahead, at "
        f"{rate(yarn)}: {both_weights(made.takes.grams, 1)} of the {both_weights(yarn.now.grams, 1)} that are "
        f"left, and {over(made.left.grams)}; at the least {over(made.left.low)}, at the most {over(made.left.high)}."
    )
