"""The ways to go on with a sock whose gauge has turned out differently."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..construction.constructions import parts_of
from ..construction.sections.base import Part
from ..construction.sections.foot import FOOT
from ..construction.sizes import round_the_foot
from ..fit.stitch_counts import foot_stitches_after_heel
from ..fit.targets import fit_of
from ..gauge.parts import Fabrics
from ..plan.document import Plan
from ..request.plan_request import PlanRequest
from ..units import both_units
from .candidate_text import HEEL_PASS_TOLERANCE_CM, LENGTH_TOLERANCE_CM
from .ways.in_a_tube import in_a_tube
from .ways.ripping import back_into_the_gusset, back_to_the_foot, cast_on_again, stays_on
from .ways.sock_in_progress import SockInProgress, knitted_part, section_at
from .ways.way import Way


def ways_on(plan: Plan, request: PlanRequest, done: int, fabrics: Fabrics | None = None) -> list[Way]:
    """The ways on with the measured gauge that `request` has, the one we would take marked.

    `fabrics` are those of what is knitted, where they are known to be others than that.
    """
    sock = SockInProgress(plan, done, request, fabrics)
    if not done:
        return [Way("rest", "Plan the sock again", "Nothing is cast on yet.", sock.plan_from(), 0, recommended=True)]
    part = open_part(plan, done)
    ways = list(in_a_tube(sock, part.tube) if part.tube else _in_a_shaped_section(sock, part))
    again = _the_foot_again(sock, next(way for way in ways if way.recommended))
    if again is None:
        return ways
    others = (way for way in ways if way.key != again.key and way.done != again.done)
    return [again, *(replace(way, recommended=False) for way in others)]


def _the_foot_again(sock: SockInProgress, recommended: Way) -> Way | None:
    """Ripping back as little as makes all of the foot fit, where what is `recommended` leaves it too wide or narrow."""
    ripped = recommended.done < min(sock.done, sock.plan.span(FOOT.key).stop)
    if not sock.foot.is_to_be_knitted_again(recommended.plan, recommended.done, ripped=ripped):
        return None
    back_to = sock.foot.fits_up_to(sock.plan, sock.done)
    foot = foot_stitches_after_heel(sock.request, fit_of(sock.request), sock.stitches_in("leg"))
    again = sock.plan_from(foot=foot, done=back_to)
    if not sock.foot.fits(round_the_foot(again, fit_of(sock.request))):
        return None
    left = both_units(sock.foot.width_of_the_worst(recommended.plan, recommended.done))
    return Way(
        "foot",
        "Knit the foot again",
        f"{sock.stays(again, back_to)}All of the foot then becomes {both_units(again.sizes.foot_circumference_cm)} "
        f"round, on {again.sizes.foot_stitches} stitches; as it is knitted it is {left} round where "
        f"{both_units(sock.foot.target_cm)} were asked for. Try the sock on before you rip.",
        again,
        back_to,
        recommended=True,
    )


def open_part(plan: Plan, done: int) -> Part:
    """The part that a change falls into: one just finished, if it can still go on, or that of the next round."""
    parts = {part.key: part for part in parts_of(plan.request.construction)}
    begun = parts[next(reversed(knitted_part(plan, done)))]
    return begun if begun.reopens else parts[section_at(plan, done)]


def _another_toe(sock: SockInProgress, rest: Plan) -> Way | None:
    """Casting on again where nothing but a toe is knitted, and what it leaves of the foot misses its length."""
    missed = abs(rest.sizes.foot_length_cm - fit_of(sock.request).length_target)
    first = parts_of(sock.request.construction)[0].key
    only_a_toe = sock.request.construction.direction == "toe-up" and [first] == list(knitted_part(sock.plan, sock.done))
    return cast_on_again(sock) if only_a_toe and missed > LENGTH_TOLERANCE_CM else None


def _in_a_shaped_section(sock: SockInProgress, part: Part) -> Iterator[Way]:
    rest = sock.plan_from()
    back = back_to_the_foot(sock, rest)
    why = f"{sock.stays(rest)}Every count from here on becomes what the measured gauge asks for."
    take_back = bool(back and back.recommended)
    yield Way("rest", "Calculate the rest again", why, rest, sock.done, recommended=not take_back)
    if back:
        yield back
    if another := _another_toe(sock, rest):
        yield another
    if gusset := back_into_the_gusset(sock):
        yield gusset
    # From the toe up the foot lies before the heel: ripping back to it gives a new heel as well, and ripping back to
    # the heel leaves it the stitches that it has.
    if part.back_to and not back:
        begin = sock.plan.span(part.back_to).start
        kept = sock.stitches_in("foot") if FOOT.key in knitted_part(sock.plan, begin) else None
        again = sock.plan_from(done=begin, foot=kept)
        foot = f" {stays_on(again, kept)}." if kept else ""
        was, becomes = rest.sizes.heel_pass_cm, again.sizes.heel_pass_cm
        if abs(becomes - was) >= HEEL_PASS_TOLERANCE_CM:
            yield Way(
                "rip",
                "Rip back to the heel",
                f"{sock.stays(again, begin)}The way round the heel becomes {both_units(becomes)} instead of "
                f"{both_units(was)}, for {both_units(fit_of(sock.request).body.heel_diagonal)} of foot.{foot}",
                again,
                begin,
            )
