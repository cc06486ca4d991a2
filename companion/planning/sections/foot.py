"""The foot between gusset and toe."""

from __future__ import annotations

from ..units import both_units
from ..work import evenly_changed, op, row, zone_stitches
from .base import Aim, Built, Knitted, Part, Progress
from .chart_end import to_the_end_of_the_chart
from .gusset import LEAST_SOLE


def shared(sole: int, instep: int, to: int, *, patterned: bool = False) -> tuple[int, int]:
    """Sole and instep when both together become `to` stitches.

    The change goes where it makes the halves alike first, and then to both. A `patterned` instep keeps its stitches,
    and with them its pattern, as long as the sole does not become much narrower or wider.
    """
    if patterned and LEAST_SOLE * to <= to - instep <= (1 - LEAST_SOLE) * to:
        return to - instep, instep
    more = to > sole + instep
    kept = max(sole, instep) if more else min(sole, instep)
    changed = to - kept
    if changed > kept if more else changed < kept:
        return to // 2, to - to // 2
    return (kept, changed) if (sole == kept) else (changed, kept)


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Plain rounds up to the toe, after one evenly spread change where the gusset could not reach the count."""
    rounds = knitted.rounds
    sole, instep = before.pieces["sole"], before.pieces["instep"]
    if rounds:
        sole, instep = zone_stitches(rounds[-1], "sole"), zone_stitches(rounds[-1], "instep")
    if not knitted.closed:
        count, to = sole + instep, aim.counts.foot
        if count != to:
            follows = aim.request.foot_pattern == "instep follows the leg"
            new_sole, new_instep = shared(sole, instep, to, patterned=follows and aim.request.stranded)
            if follows and new_instep != instep:
                so_far = before.after(rounds, on_foot=True).foot_rounds
                room = aim.foot_rounds - so_far - aim.beyond_the_foot(new_sole, new_instep)
                rounds += to_the_end_of_the_chart(aim, rounds, room)
            why = f"for a foot {both_units(aim.fabric.width(to))} round"
            rounds += (evenly_changed(("sole", sole, new_sole), ("instep", instep, new_instep), why=why),)
            sole, instep = new_sole, new_instep
        so_far = before.after(rounds, on_foot=True).foot_rounds
        left = aim.foot_rounds - so_far - aim.beyond_the_foot(sole, instep)
        rounds += (row(("sole", op("k", sole)), ("instep", op("k", instep)), before=sole + instep),) * max(0, left)
    return rounds, before.after(rounds, on_foot=True, sole=sole, instep=instep, foot=sole + instep)


FOOT = Part("foot", "Foot", flat=False, build=build, tube="foot", reopens=True, narrowed_in="gusset", optional=True)
