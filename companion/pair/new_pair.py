"""A pair that was just planned, as the file of one: for a phone that plans where no server keeps it yet. Pure."""

from __future__ import annotations

from datetime import datetime

from ..planning import CannotKnitError, Plan, make_plan, read_plan
from ..planning.units import Unit
from .file import KeptRevision, PairFile
from .logbook import SOCKS, Sock
from .revisions import OTHER_FOOT


def begun(plan: Plan, other: Plan | None, unit: Unit, moment: datetime) -> PairFile:
    """The pair of a plan. Sock two has a plan of its own where it is for another foot."""
    revisions = [_revision(1, 1, plan, moment, None)]
    if other:
        revisions.append(_revision(2, 2, other, moment, OTHER_FOOT))
    return PairFile(format="tapeline pair", version=1, title=plan.title, unit=unit, revisions=tuple(revisions))


def _revision(number: int, sock: Sock, plan: Plan, moment: datetime, option: str | None) -> KeptRevision:
    created = moment.isoformat()
    document = plan.model_dump(mode="json")
    return KeptRevision(number=number, sock=sock, done=0, other_done=0, option=option, created=created, plan=document)


def is_begun(file: PairFile) -> bool:
    """Whether a file has a pair that was just planned, and nothing beside."""
    later = [one for one in file.revisions[1:] if one.option != OTHER_FOOT]
    nothing = not (later or file.log or file.follows or file.copy_of) and len(file.revisions) <= len(SOCKS)
    return nothing and all(one.state == "accepted" and not one.done and not one.summary for one in file.revisions)


def planned_alike(file: PairFile) -> bool:
    """Whether the plans of a pair are the ones that are made here of what they were asked for."""
    return all(_alike(revision) for revision in file.revisions)


def _alike(revision: KeptRevision) -> bool:
    plan, _ = read_plan(revision.plan)
    try:
        return plan is not None and make_plan(plan.request).model_dump(mode="json") == revision.plan
    except CannotKnitError:
        return False
