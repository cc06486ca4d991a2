"""Pairs as their plans and their logbooks make them, without a store."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from companion.pair.logbook import Entry, ends
from companion.pair.revisions import Revision
from companion.pair.state import PairState
from companion.planning import PlanRequest, make_plan


def state_of(request_data: dict[str, Any], entries: Sequence[Entry] = ()) -> PairState:
    """A pair that still follows its first plan."""
    plan = make_plan(PlanRequest.model_validate(request_data))
    first = Revision(1, 1, 0, 0, "", plan.model_dump_json())
    return PairState("Larch", "cm", [first], ends(entries), entries)
