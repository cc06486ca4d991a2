"""What is different between two plans for the same sock, in words and numbers."""

from __future__ import annotations

from ..frozen_model import FrozenModel
from ..plan.document import Plan, Sizes
from .figures import PlanFigures


class Change(FrozenModel):
    """One number of the plan before and after, and the sentences that these open to."""

    what: str
    before: str
    after: str
    sums: tuple[str, str]


def changes_between(before: Plan, after: Plan, before_sizes: Sizes, after_sizes: Sizes) -> tuple[Change, ...]:
    """Every figure that differs; `before_sizes` are the old plan's sizes at the gauge of the new one."""
    return changes_of(PlanFigures(before, before_sizes), PlanFigures(after, after_sizes))


def changes_of(before: PlanFigures, after: PlanFigures) -> tuple[Change, ...]:
    """Every figure that differs."""
    old = {figure.what: figure for figure in before.figures}
    return tuple(
        Change(
            what=new.what, before=was.value, after=new.value, sums=(was.sum(), new.sum() + _more(was.value, new.value))
        )
        for new in after.figures
        if (was := old.get(new.what)) and was.value != new.value
    )


def _more(before: str, after: str) -> str:
    """How many more or fewer they are, of what is counted one by one."""
    if not (before.isdigit() and after.isdigit()):
        return ""
    more = int(after) - int(before)
    return f" That is {abs(more)} {'more' if more > 0 else 'fewer'}."
