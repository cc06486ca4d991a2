"""The foot between gusset and toe."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from ...plan.document import Round
from ...plan.rounds import evenly_changed, op, row, zone_stitches
from ...units import both_units
from .base import Aim, Built, Knitted, Part, Progress
from .count_changes import PLAIN_BETWEEN, in_steps, pattern_row, until_finished
from .heels.gusset import LEAST_SOLE


def shared(sole: int, instep: int, to: int, *, as_plain: Callable[[int], float] | None = None) -> tuple[int, int]:
    """Sole and instep when both together become `to` stitches.

    The change goes where it makes the halves alike first, and then to both. An instep in pattern, which is `as_plain`
    stitches wide, keeps its stitches, and with them its pattern, as long as the sole does not become much narrower or
    wider.
    """
    if as_plain:
        around = to - instep + as_plain(instep)
        if LEAST_SOLE * around <= to - instep <= (1 - LEAST_SOLE) * around:
            return to - instep, instep
    more = to > sole + instep
    kept = max(sole, instep) if more else min(sole, instep)
    changed = to - kept
    if changed > kept if more else changed < kept:
        return to // 2, to - to // 2
    return (kept, changed) if (sole == kept) else (changed, kept)


def sole_beside(instep: float, sole: int, wanted: int) -> int:
    """The sole that comes nearest to the one wanted beside an instep, as wide as so many plain stitches, that stays."""
    least, most = LEAST_SOLE / (1 - LEAST_SOLE) * instep, (1 - LEAST_SOLE) / LEAST_SOLE * instep
    if wanted < sole:
        return min(sole, max(wanted, math.ceil(least)))
    return max(sole, min(wanted, math.floor(most)))


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Plain rounds up to the toe, after an evenly spread change where the gusset could not reach the count."""
    rounds = knitted.rounds
    if not knitted.closed:
        rounds = _changed(aim, before, rounds)
        sole, instep = _halves(before, rounds)
        if sole + instep != aim.counts.foot:
            before = _warned(aim, before, sole, instep)
        stay = _patterned(aim) or abs(sole - instep) == 1  # the toe takes a single stitch
        divided = (sole, instep) if stay else ((sole + instep) // 2, (sole + instep + 1) // 2)
        left = _left(aim, before, rounds, divided)
        plain = _plain(sole, instep)
        if divided != (sole, instep) and left + len(rounds) > 1 and left > 0:
            rounds += (plain,) * (left - 1) + (halves_divided(sole, instep),)
        else:
            rounds += (plain,) * max(
                0, left if divided == (sole, instep) else _left(aim, before, rounds, (sole, instep))
            )
    sole, instep = _halves(before, rounds)
    return rounds, before.after(rounds, on_foot=True, sole=sole, instep=instep, foot=sole + instep)


def _halves(before: Progress, rounds: tuple[Round, ...]) -> tuple[int, int]:
    """The stitches of sole and instep after these rounds of the foot."""
    if not rounds:
        return before.counts["sole"], before.counts["instep"]
    return zone_stitches(rounds[-1], "sole"), zone_stitches(rounds[-1], "instep")


def _plain(sole: int, instep: int) -> Round:
    return row(("sole", op("k", sole)), ("instep", op("k", instep)), before=sole + instep)


def _patterned(aim: Aim) -> bool:
    """Whether the instep has columns of a pattern that must not move."""
    return aim.request.instep_follows and (aim.request.stranded or aim.request.leg.stitch_pattern is not None)


def _left(aim: Aim, before: Progress, rounds: tuple[Round, ...], halves: tuple[int, int]) -> int:
    """Rounds from here to the toe, or from the toe up to the heel."""
    return aim.foot_rounds - before.after(rounds, on_foot=True).foot_rounds - aim.rounds_after_foot(*halves)


def _changed(aim: Aim, before: Progress, done: tuple[Round, ...]) -> tuple[Round, ...]:
    """The rounds `done`, and those that bring the foot to its count: in steps where it is not begun, or within them."""
    rounds, (sole, instep) = done, _halves(before, done)
    row_worked = pattern_row(rounds, before.pattern_row)
    begins = aim.plain_before_toe if aim.request.construction.direction == "toe-up" else 0
    at_once = bool(rounds) and not _within_steps(rounds, _rows_together(aim), before.pattern_row)
    for to in [aim.counts.foot] if at_once else in_steps(sole + instep, aim.counts.foot):
        wait, new_sole, new_instep = _next_change(aim, before, rounds, to, row_worked)
        if (new_sole, new_instep) == (sole, instep):
            break
        why = f"for a foot {both_units(aim.fit.around_foot(aim.counts.foot, new_instep))} round"
        changed = evenly_changed(("sole", sole, new_sole), ("instep", instep, new_instep), why=why)
        row_worked += max(0, wait + (new_instep == instep) - max(0, begins - len(rounds)))
        rounds += (*(_plain(sole, instep),) * wait, changed)
        sole, instep = new_sole, new_instep
    if rounds != done and sole + instep != aim.counts.foot:
        # The rounds name the foot that they lead to, and its toe tells how many of them there is room for.
        return _changed(replace(aim, counts=replace(aim.counts, foot=sole + instep)), before, done)
    return rounds


def _next_change(
    aim: Aim, before: Progress, rounds: tuple[Round, ...], to: int, row_worked: int
) -> tuple[int, int, int]:
    """How many rounds come before the next change of the foot, and sole and instep after it.

    An instep that goes on in the pattern changes where the rows of that are finished. Without room to finish them it
    keeps its stitches, and the sole changes as far as it may.
    """
    sole, instep = _halves(before, rounds)
    since = _since_a_step(rounds)
    least = 0 if since is None else max(0, PLAIN_BETWEEN - since)
    new = shared(sole, instep, to, as_plain=aim.fit.instep.as_plain if _patterned(aim) else None)
    if new[1] == instep:
        return least, *new
    plain_after = 0 if aim.request.construction.direction == "toe-up" else aim.plain_before_toe
    wait = until_finished(row_worked, _rows_together(aim), _left(aim, before, rounds, new), least, plain_after)
    if wait is None:
        return least, sole_beside(aim.fit.instep.as_plain(instep), sole, to - instep), instep
    return wait, *new


def _rows_together(aim: Aim) -> int:
    return aim.request.leg.rows_together if aim.request.instep_follows else 1


def _warned(aim: Aim, before: Progress, sole: int, instep: int) -> Progress:
    around = both_units(aim.fit.around_foot(sole + instep, instep))
    return before.warn(
        f"What is left of the foot is too short to finish the rows of the {aim.request.leg.called} before the instep "
        f"changes: it stays on {instep} stitches, and the foot is {around} round on {sole + instep}, where "
        f"{aim.counts.foot} were wanted."
    )


def _since_a_step(rounds: tuple[Round, ...]) -> int | None:
    """Plain rounds since the foot last changed its count; None where it has not."""
    return next((since for since, item in enumerate(reversed(rounds)) if item.before != item.after), None)


def _within_steps(rounds: tuple[Round, ...], high: int, row_before: int) -> bool:
    """Whether a foot is on its way to its count: between two steps, or finishing a pattern so many rounds high."""
    since = _since_a_step(rounds)
    if since is None:
        return bool(row_before) and len(rounds) <= -row_before % high
    return since <= PLAIN_BETWEEN + high - 1


BORDER_MOVES = 2
"""Stitches that one border of the halves may move by: the toe then turns by one of them, which is not felt (ours)."""


def halves_divided(sole: int, instep: int) -> Round:
    """A round after which both halves have as many stitches.

    A few stitches change sides at the border between them; where that would turn the toe, both halves change evenly.
    """
    half, other = (sole + instep) // 2, (sole + instep + 1) // 2
    moved = abs(sole - half)
    if moved > BORDER_MOVES:
        note = f"{DIVIDED}: the sole comes to {half} stitches and the instep to {other}, evenly spread."
        evened = evenly_changed(("sole", sole, half), ("instep", instep, other), why="")
        return replace(evened, kind="setup", note=note)
    where = "end of the sole" if sole > instep else "beginning of the instep"
    goes_to = "instep" if sole > instep else "sole"
    note = f"{DIVIDED}: {moved} at the {where} {'go' if moved > 1 else 'goes'} to the {goes_to}."
    return row(("sole", op("k", half)), ("instep", op("k", other)), before=sole + instep, note=note)


DIVIDED = "The halves are divided again for the toe"

FOOT = Part("foot", "Foot", "foot", build, optional=True, charted=True, countable=True, tube="foot", reopens=True)
