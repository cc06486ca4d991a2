"""Ripping back: to the cast-on, into the foot, or into the gusset."""

from __future__ import annotations

from ...construction.constructions import parts_of
from ...construction.sections.foot import FOOT
from ...construction.sizes import round_the_foot
from ...faults import CannotKnitError
from ...fit.targets import fit_of, nearest
from ...plan.document import Plan
from ...units import both_units
from ..candidate_text import LENGTH_TOLERANCE_CM
from .sock_in_progress import SockInProgress, knitted_part
from .way import Way

RIP_WORTH = 0.04
"""How far off the first centimetres of a foot may be before they are knitted again (ours)."""

FIRST_CM = 4.0
"""The first centimetres of a foot: the fabric that a check there wants below it (common practice)."""


def cast_on_again(sock: SockInProgress) -> Way | None:
    """The whole sock at the measured gauge; None where its chart does not go into the leg there."""
    try:
        whole = sock.plan_from(done=0)
    except CannotKnitError:
        return None
    why = "The whole sock gets the counts that the measured gauge asks for."
    return Way("rip", "Rip back and cast on again", why, whole, 0)


def back_to_the_foot(sock: SockInProgress, rest: Plan) -> Way | None:
    """Ripping back to where the foot's length was still open, when the rest cannot give it the length asked for.

    A foot too long is ripped into; one too short is taken up again where its tube ended. One that is too wide or too
    narrow to be left is knitted again from its beginning.
    """
    target = fit_of(sock.request).length_target
    is_cm = sock.sizes(rest, sock.done).foot_length_cm
    off = abs(is_cm - target)
    foot = knitted_part(sock.plan, sock.done).get(FOOT.key)
    if off <= LENGTH_TOLERANCE_CM or not foot or sock.foot_is_lost:
        return None
    start = sock.plan.span(FOOT.key).start
    end = start + len(foot)
    kept = foot[-1].after
    in_the_foot = end == sock.done and kept == rest.sizes.foot_stitches
    again = rest if in_the_foot else sock.plan_from(foot=kept, done=end)
    over = nearest((sock.sizes(again, end).foot_length_cm - target) * fit_of(sock.request).fabric.rounds)
    if over > 0:
        end = max(start + 1, end - over)
        again = sock.plan_from(foot=kept, done=end)
    becomes = sock.sizes(again, end).foot_length_cm
    if end >= sock.done or abs(becomes - target) >= off:
        return None
    return Way(
        "foot",
        "Rip back to the foot",
        f"{sock.stays(again, end)}The foot then becomes {both_units(becomes)} long instead of "
        f"{both_units(is_cm)}, for {both_units(target)} asked for. {stays_on(again, kept)}. Try the sock on "
        "before you rip.",
        again,
        end,
        # Where the foot itself is on the needles nothing is ripped but what it is too long by.
        recommended=in_the_foot or sock.foot.is_surely_too_long_or_short(off, is_cm),
    )


def stays_on(again: Plan, stitches: int) -> str:
    """What is said of a foot that keeps its stitches."""
    return f"The foot stays on {stitches} stitches, {both_units(again.sizes.foot_circumference_cm)} round"


def back_into_the_gusset(sock: SockInProgress) -> Way | None:
    """Ripping back to where a gusset last had as many stitches as the foot should get; None before its end.

    The way we would take while only the first centimetres of a foot are knitted, and these far too wide or narrow.
    """
    parts, fit = parts_of(sock.request.construction), fit_of(sock.request)
    gusset = next((sock.plan.span(part.key) for part in parts if part.narrows), range(0))
    wanted = sock.foot_wanted
    if sock.done <= gusset.stop or wanted == sock.plan.sizes.foot_stitches:
        return None
    rounds = sock.plan.rounds()
    enough = [number + 1 for number in gusset if rounds[number].after >= wanted]
    if not enough or enough[-1] >= sock.done:
        return None
    again = sock.plan_from(done=enough[-1])
    width, first = round_the_foot(sock.plan, fit), FIRST_CM * fit.fabric.rounds
    return Way(
        "rip",
        "Rip back into the gusset",
        f"{sock.stays(again, enough[-1])}The gusset then ends on {again.sizes.foot_stitches} stitches, with no step in "
        "the foot.",
        again,
        enough[-1],
        recommended=abs(width / fit.foot_target - 1) > RIP_WORTH and sock.done - enough[-1] <= first,
    )
