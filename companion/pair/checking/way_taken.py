"""The plan that one of the ways to go on after a check makes. Pure."""

from __future__ import annotations

from ..changing.accepted import Accepted
from .check_result import CheckResult


def way_taken(result: CheckResult, key: str | None) -> Accepted | None:
    """The way of a result that has this key; None where it has none."""
    found, _ = result.found_or_fault()
    option = next((one for one in found.options if one.key == key), None) if found else None
    if option is None:
        return None
    position = result.position
    return Accepted(
        sock=position.sock,
        done=option.done,
        title=f"{position.behind()}: {option.title}",
        plan=option.plan,
        changes=option.changes,
        option=option.key,
        gauge_check=next((one.check.model_dump_json() for one in result.checks), ""),
    )
