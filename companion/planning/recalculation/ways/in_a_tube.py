"""The ways to go on in the leg or the foot: with the same stitches, with others from here on, or ripped back."""

from __future__ import annotations

from collections.abc import Iterator

from ...construction.constructions import TUBES
from ...construction.sections.base import Tube
from ...construction.sizes import round_the_foot, stitches_at_the_top
from ...fit.stitch_counts import in_whole_repeats
from ...fit.targets import fit_of, nearest_multiple
from ...units import both_units
from ..candidate_text import FOOT_TOLERANCE, LEG_TOLERANCE, how_it_changes
from .ripping import back_into_the_gusset, back_to_the_foot, cast_on_again
from .sock_in_progress import SockInProgress
from .way import Way


def in_a_tube(sock: SockInProgress, tube: Tube) -> Iterator[Way]:
    """In leg or foot: go on with the same stitches, change them here, or rip back."""
    fit = fit_of(sock.request)
    kept = sock.stitches_in(tube)
    target = fit.leg_target if tube == "leg" else fit.foot_target
    wanted = _wanted_in_the_leg(sock, target) if tube == "leg" else sock.foot_wanted
    width = fit.leg.width(kept) if tube == "leg" else round_the_foot(sock.plan, fit)
    # A foot is worn in a shoe and gets its own count; a leg may be a little off.
    near = abs(width / target - 1) <= (FOOT_TOLERANCE if tube == "foot" else LEG_TOLERANCE)
    first = not sock.other_tube_begun(tube)
    whole = cast_on_again(sock) if first else None
    other = "foot" if tube == "leg" else "leg"
    rest = sock.plan_from(**{tube: kept})
    goes_on = rest.span(TUBES[tube].key).stop > sock.done
    changes = wanted != kept and sock.stitch_gauge_differs and goes_on
    around = rest.sizes.leg_cm if tube == "leg" else rest.sizes.foot_circumference_cm
    back = back_to_the_foot(sock, rest)
    gusset = back_into_the_gusset(sock) if not first and wanted != kept and tube == "foot" else None
    ripped = any(way and way.recommended for way in (back, gusset))
    yield Way(
        "rest",
        f"Keep the {tube} stitches",
        f"{sock.stays(rest)}The {tube} stays on {kept} stitches and becomes {both_units(around)} round; its length is "
        "calculated again"
        f"{f', and the {other} gets its own count beyond the heel' if first else ''}.",
        rest,
        sock.done,
        recommended=(near or not changes) and not ripped,
    )
    if changes:
        changed = sock.plan_from(**{tube: wanted})
        yield Way(
            "here",
            f"Change the {tube} here",
            f"{sock.stays(changed)}{how_it_changes(changed, sock.done, tube, kept, wanted)}",
            changed,
            sock.done,
            recommended=not near and not ripped,
        )
    if whole:
        yield whole
    if gusset:
        yield gusset
    if back:
        yield back


def _wanted_in_the_leg(sock: SockInProgress, target: float) -> int:
    """Stitches for a target in cm, as many as suit the chart, unless those are too far off."""
    stitches = fit_of(sock.request).leg.stitches_for(target)
    straight = stitches_at_the_top(sock.plan) == sock.plan.sizes.leg_stitches
    suits = in_whole_repeats(stitches, sock.request, straight=straight)
    return suits if abs(suits / stitches - 1) <= LEG_TOLERANCE else nearest_multiple(stitches, 2)
