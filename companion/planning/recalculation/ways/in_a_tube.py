"""The ways to go on in the leg or the foot: with the same stitches, with others from here on, or ripped back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ...construction.constructions import TUBES
from ...construction.sections.base import Tube
from ...construction.sizes import instep_of, round_the_foot
from ...fit.targets import fit_of
from ...plan.document import Plan
from ...units import both_units
from ..candidate_text import FOOT_TOLERANCE, LEG_TOLERANCE, how_it_changes, no_room_for, stitches_in
from .leg_counts import CountAhead, leg_counts
from .ripping import back_into_the_gusset, back_to_the_foot, cast_on_again
from .sock_in_progress import SockInProgress
from .way import Way


def in_a_tube(sock: SockInProgress, tube: Tube) -> Iterator[Way]:
    """In leg or foot: go on with the same stitches, change them here, or rip back."""
    first = not sock.other_tube_begun(tube)
    rest = sock.plan_from(**{tube: sock.stitches_in(tube)})
    counts = _counts_ahead(sock, tube, rest)
    changed = list(_changed(sock, tube, counts))
    gusset = back_into_the_gusset(sock) if tube == "foot" and not first else None
    back = back_to_the_foot(sock, rest)
    ripped = any(way and way.recommended for way in (back, gusset))
    near = _is_near(sock, tube)
    refused = counts[0].stitches if counts and not changed else None
    yield replace(_kept(sock, tube, rest, refused), recommended=(near or not changed) and not ripped)
    for number, way in enumerate(changed):
        yield replace(way, recommended=not (number or near or ripped))
    yield from filter(None, (cast_on_again(sock) if first else None, gusset, back))


def _is_near(sock: SockInProgress, tube: Tube) -> bool:
    """Whether a tube with its own stitches is as near to its target as it has to be.

    A foot is worn in a shoe and gets its own count; a leg may be a little off.
    """
    fit = fit_of(sock.request)
    if tube == "leg":
        return abs(fit.leg.width(sock.stitches_in(tube)) / fit.leg_target - 1) <= LEG_TOLERANCE
    return abs(round_the_foot(sock.plan, fit) / fit.foot_target - 1) <= FOOT_TOLERANCE


def _kept(sock: SockInProgress, tube: Tube, rest: Plan, refused: int | None) -> Way:
    """The same stitches as before, perhaps since there is no room to come to the count `refused`."""
    around = rest.sizes.leg_cm if tube == "leg" else rest.sizes.foot_circumference_cm
    other = "foot" if tube == "leg" else "leg"
    first = not sock.other_tube_begun(tube)
    return Way(
        "rest",
        f"Keep the {tube} stitches",
        f"{sock.stays(rest)}The {tube} stays on {sock.stitches_in(tube)} stitches and becomes {both_units(around)} "
        f"round; its length is calculated again"
        f"{f', and the {other} gets its own count beyond the heel' if first else ''}."
        f"{f' {no_room_for(refused, sock.request)}' if refused else ''}",
        rest,
        sock.done,
    )


def _counts_ahead(sock: SockInProgress, tube: Tube, rest: Plan) -> list[CountAhead]:
    """The counts that a tube is better off with, where anything is left of it."""
    if not sock.stitch_gauge_differs or rest.span(TUBES[tube].key).stop <= sock.done:
        return []
    return leg_counts(sock) if tube == "leg" else _foot_counts(sock)


def _changed(sock: SockInProgress, tube: Tube, counts: list[CountAhead]) -> Iterator[Way]:
    """The plans with other stitches from here on, each once: one without room comes less far, or stays as it is."""
    kept = sock.stitches_in(tube)
    known = {kept}
    for key, wanted, in_words in counts:
        changed = sock.plan_from(**{tube: wanted})
        gets = stitches_in(changed, tube)
        if gets in known:
            continue
        known.add(gets)
        what = "sole" if tube == "foot" and _the_sole_alone(sock, changed) else tube
        yield Way(
            key,
            f"Change the {what} here{f', to {in_words}' if in_words and gets == wanted else ''}",
            f"{sock.stays(changed)}{how_it_changes(changed, sock.done, tube, kept, wanted)}",
            changed,
            sock.done,
        )


def _foot_counts(sock: SockInProgress) -> list[CountAhead]:
    wanted = sock.foot_wanted
    return [CountAhead("here", wanted)] if wanted != sock.stitches_in("foot") else []


def _the_sole_alone(sock: SockInProgress, changed: Plan) -> bool:
    """Whether an instep in pattern keeps its stitches where those of the foot change."""
    return sock.request.instep_follows and instep_of(changed) == instep_of(sock.plan)
