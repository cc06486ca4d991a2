"""A few lines for a messenger: a leader's invitation to her group. Pure."""

from __future__ import annotations

from ..planning.plan.design import Design
from ..words import day_words


def invitation(design: Design, join_url: str) -> str:
    """What it is, what to do, the days, and the link, which ends the text so that nothing clings to it."""
    leads = f", with {design.leader}" if design.leader else ""
    days = [f"{stage.name}: by {day_words(stage.by)}" for stage in sorted(design.stages, key=lambda stage: stage.by)]
    lines = [f"{design.title}{leads}", *days, "Your foot and your gauge make your own plan for this sock:", join_url]
    return "\n".join(lines)
