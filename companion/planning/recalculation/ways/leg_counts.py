"""The counts that a leg can change to in its middle: whole repeats of its pattern, or some with columns beside them."""

from __future__ import annotations

from typing import NamedTuple

from ...construction.sizes import leg_is_shaped
from ...fabric.beside_repeats import in_repeats
from ...fit.stitch_counts import FEWEST_STITCHES, MOST_MISS, in_whole_repeats
from ...fit.targets import Fit, fit_of, nearest, nearest_multiple
from ...stitches.columns import over_of
from ..candidate_text import FELT_LEG, FOOT_TOLERANCE, LEG_TOLERANCE
from .sock_in_progress import SockInProgress
from .way import WayKey


class CountAhead(NamedTuple):
    """A count to change to, with the key of its way, and what it is of a pattern: "10 repeats and 1 purl stitch"."""

    key: WayKey
    stitches: int
    in_words: str = ""


def leg_counts(sock: SockInProgress) -> list[CountAhead]:
    """The counts that a leg of the measured gauge is better off with than with its own, the one to take first.

    A straight leg in a stitch pattern has two: the nearest whole repeats, which are taken while they are as near as a
    leg has to be, and as many repeats with columns beside them that come nearer by a stitch of sixty. A colour chart
    breaks where no whole repeats are near.
    """
    fit, pattern = fit_of(sock.request), sock.request.leg.stitch_pattern
    straight = not leg_is_shaped(sock.plan)
    if pattern is None or sock.request.leg.repeat == 1 or not straight:
        count = _one_count(sock, fit, straight=straight)
        return [CountAhead("here", count)] if count != sock.stitches_in("leg") else []
    whole, columns = _whole_repeats(sock, fit), _with_columns(sock, fit)
    if whole is None or columns is None:
        counts = list(filter(None, (whole, columns)))
    elif _off(fit, whole.stitches) - _off(fit, columns.stitches) < FOOT_TOLERANCE:
        counts = [whole]
    else:
        counts = [whole, columns] if _off(fit, whole.stitches) <= LEG_TOLERANCE else [columns, whole]
    return [count._replace(in_words=in_repeats(pattern, count.stitches)) for count in counts]


def _one_count(sock: SockInProgress, fit: Fit, *, straight: bool) -> int:
    """As many stitches as suit the chart, unless those are too far off."""
    stitches = fit.leg.stitches_for(fit.leg_target)
    suits = in_whole_repeats(stitches, sock.request, straight=straight)
    return suits if abs(suits / stitches - 1) <= LEG_TOLERANCE else nearest_multiple(stitches, 2)


def _whole_repeats(sock: SockInProgress, fit: Fit) -> CountAhead | None:
    """The nearest whole repeats, where the leg is nearer with them by a stitch of sixty, and near enough for a plan."""
    whole = in_whole_repeats(fit.leg.stitches_for(fit.leg_target), sock.request)
    helps = _off(fit, sock.stitches_in("leg")) - _off(fit, whole) >= FOOT_TOLERANCE
    return CountAhead("here", whole) if helps and _off(fit, whole) <= MOST_MISS else None


def _with_columns(sock: SockInProgress, fit: Fit) -> CountAhead | None:
    """The count nearest to the target that has columns over, of those as near to a stitch the one with the fewest."""
    repeat, about = fit.leg.repeat, int(fit.leg.stitches_for(fit.leg_target))
    near = range(max(FEWEST_STITCHES, about - repeat), about + repeat)

    def preferred(count: int) -> tuple[int, int]:
        return nearest(_off(fit, count) * about), over_of(count, repeat)

    count = min(near, key=preferred, default=about)
    helps = _off(fit, sock.stitches_in("leg")) - _off(fit, count) >= FELT_LEG
    return CountAhead("columns", count) if helps and over_of(count, repeat) else None


def _off(fit: Fit, stitches: int) -> float:
    """The part by which a leg of so many stitches is too wide or too narrow."""
    return abs(fit.leg.width(stitches) / fit.leg_target - 1)
