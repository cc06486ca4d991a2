"""What is new in a design beside its sock, in words for its followers: hidden parts, notes, stages, days. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from ..planning.plan.design import Design, Stage
from ..planning.plan.document import PARTS_OF_SOCK, PartOfSock
from ..words import day_words


def news_of(before: Design, after: Design) -> str:
    """What those who follow a design have to hear of a change; empty where it is only the sock, or nothing."""
    news = [
        *_of_hidden(before.hidden_until, after.hidden_until),
        *_of_notes(before, after),
        *_of_stages(before.stages, after.stages),
        *_of_zone(before, after),
    ]
    return " ".join(news)


def _of_hidden(before: Mapping[PartOfSock, date], after: Mapping[PartOfSock, date]) -> Iterator[str]:
    for part in PARTS_OF_SOCK:
        was, now = before.get(part), after.get(part)
        if was and not now:
            yield f"The {part} is revealed."
        elif now and was != now:
            yield f"The {part} is kept secret until {day_words(now)}."


def _of_notes(before: Design, after: Design) -> Iterator[str]:
    hidden = before.hidden.keys() | after.hidden.keys()
    for part in (part for part in PARTS_OF_SOCK if part not in hidden):
        was, now = before.notes.get(part, ""), after.notes.get(part, "")
        if was != now:
            said = "is new" if not was else "was taken away" if not now else "is another now"
            yield f"The note for the {part} {said}."


def _of_stages(before: Sequence[Stage], after: Sequence[Stage]) -> Iterator[str]:
    """A stage that keeps its name, or ends with the same part of the same sock, is the same one."""
    left = list(before)
    for stage in after:
        was = next((one for one in left if one.name == stage.name), None)
        was = was or next((one for one in left if _ends(one) == _ends(stage) and one.name not in _names(after)), None)
        if was:
            left.remove(was)
        if was is None:
            yield f"A new stage: {_words(stage)}."
        elif was != stage:
            yield f"A stage was changed: {_words(stage)}, before {_words(was)}."
    yield from (f"“{stage.name}” is no stage any more." for stage in left)


def _names(stages: Sequence[Stage]) -> set[str]:
    return {stage.name for stage in stages}


def _ends(stage: Stage) -> tuple[int, str]:
    return stage.sock, stage.until


def _words(stage: Stage) -> str:
    return f"“{stage.name}”, sock {stage.sock} to the end of the {stage.until}, by {day_words(stage.by)}"


def _of_zone(before: Design, after: Design) -> Iterator[str]:
    if before.time_zone != after.time_zone and after.stages:
        yield f"The days of the stages end at midnight in {after.time_zone} now, before in {before.time_zone}."
