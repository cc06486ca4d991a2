"""The ribbed cuff, cast on at the top."""

from __future__ import annotations

from ...plan.rounds import op, row
from .base import Aim, Built, Knitted, Part, Progress
from .edge_rounds import adds_height, first_rounds
from .edges import CAST_ON, edge_advice, length_asked, ribbing


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Cast on, the rounds of the edge, then ribbing up to the length of the cuff."""
    rounds = knitted.rounds
    if not knitted.closed:
        count = rounds[0].after if rounds else aim.counts.cuff
        cast_on = row(
            ("leg", op("co", count)),
            before=0,
            kind="setup",
            note=f"{edge_advice(CAST_ON, aim, count)} Join without twisting; "
            "the round begins where the heel will begin.",
        )
        edge = (cast_on, *first_rounds(aim, count, rounds[1:]))
        rounds += edge[len(rounds) :]
        rounds += ribbing(aim, rounds[-1].after)[sum(adds_height(rounds)) :]
    return rounds, before.after(rounds)


CUFF = Part("cuff", "Cuff", "cuff", build, asked=length_asked, tube="leg", adds_height=adds_height)
