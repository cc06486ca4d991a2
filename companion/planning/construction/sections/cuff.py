"""The ribbed cuff: cast on at the top, or from the toe up bound off there."""

from __future__ import annotations

from ...fit.stitch_counts import ribbing_for
from ...plan.rounds import evenly_changed, op, row
from ...request.rib import rib_width
from ...units import counted
from .base import Aim, Built, Knitted, Part, Progress
from .edge_rounds import FOLDS, adds_height, first_rounds, last_rounds
from .edges import BIND_OFF, CAST_ON, edge_advice, length_asked, ribbing

NEW_COLOUR = "The first round of the new colour is plain: purled stitches would show both colours."
"""Common practice. A round that changes the count is plain, too."""


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


def build_towards_the_top(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """A change to a count that suits the ribbing where it is needed, the ribbing, the edge, and a stretchy bind-off."""
    rounds = knitted.rounds
    if rounds and not rounds[-1].after:
        return rounds, before.after(rounds)
    ribbed = _ribbed(aim, before.live)
    if not rounds and before.live != ribbed:
        why = f"for {counted(ribbed // rib_width(aim.request.cuff.rib), 'repeat')} of the ribbing"
        rounds = (evenly_changed(("leg", before.live, ribbed), why=why),)
    count = before.after(rounds).live
    if not rounds and TOE_UP_CUFF.own_yarn(aim.request):
        rounds = (row(("leg", op("k", count)), before=count, note=NEW_COLOUR),)
    rounds = last_rounds(aim, count, rounds, ribbing(aim, count))
    ends = op("sew" if aim.request.cuff.edge in FOLDS else "bo", count)
    rounds += (row(("leg", ends), before=count, kind="finish", note=edge_advice(BIND_OFF, aim, count)),)
    return rounds, before.after(rounds)


def _ribbed(aim: Aim, leg: int) -> int:
    """Stitches of the ribbing over a leg of so many, which a straight one may have otherwise than wanted."""
    as_wanted = leg == aim.counts.top or aim.counts.top != aim.counts.leg
    return aim.counts.cuff if as_wanted else ribbing_for(leg, aim.request, aim.fit)


CUFF = Part("cuff", "Cuff", "cuff", build, asked=length_asked, tube="leg", adds_height=adds_height)
TOE_UP_CUFF = Part("cuff", "Cuff", "cuff", build_towards_the_top, asked=length_asked, adds_height=adds_height)
