"""Folding the logbooks of finished pairs that rest, so that they take a tenth of the room; nothing of them is lost."""

from __future__ import annotations

from datetime import datetime, timedelta

from ..pair.state import PairState, UnreadablePlanError
from ..store import DamagedPairError, Pair, Store
from .doctor import amount, size

QUIET_DAYS = 90
"""Days after which hardly a phone that was away has still something to send (ours)."""


def fold_finished(store: Store, now: datetime) -> list[str]:
    """Fold the logbooks that have been at rest for so long; a line that says how many, if any."""
    before = (now - timedelta(days=QUIET_DAYS)).isoformat(timespec="seconds")
    done = [store.folding.fold(pair, before) for pair in store.folding.quiet(before) if _finished(store, pair)]
    folded = [one for one in done if one.counts]
    if not folded:
        return []
    counts, into = amount(sum(one.counts for one in folded), "count"), size(sum(one.size for one in folded))
    pairs = amount(len(folded), "finished pair")
    return [f"Folded: {counts} of {pairs}, into {into}; nothing of them is lost."]


def _finished(store: Store, pair: Pair) -> bool:
    """Whether both socks are knitted to their ends; of one that no longer reads nobody knows."""
    try:
        known = store.log_digest(pair)
        return PairState(pair.title, pair.unit, store.revisions(pair), known.ends, known.entries).finished
    except (DamagedPairError, UnreadablePlanError):
        return False
