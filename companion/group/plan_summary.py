"""A summary of a plan for a leader's page, which need not read thousands of long plans each time. Pure."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import TypeAdapter
from pydantic.dataclasses import dataclass

from ..planning.construction.construction_words import construction_words
from ..planning.construction.constructions import parts_by_key
from ..planning.request.construction import Construction
from ..strict_json import UnsoundJSONError, read_json

NOT_BEGUN, FINISHED = "not begun", "finished"


@dataclass(frozen=True)
class PlanSummary:
    """A plan's stitch gauge, its construction in words, the leg's size, and the titles and ends of its sections by key.

    A section's end is the number of rounds done when it is.
    """

    stitches_per_10cm: float
    leg_stitches: int
    leg_cm: float
    ends: dict[str, int]
    titles: dict[str, str]
    construction: str

    def ends_of_parts(self) -> dict[str, int]:
        """How many rounds are done when each part is that a leader speaks of, in this order."""
        belongs, found = parts_by_key(), dict[str, int]()
        for key, end in self.ends.items():
            if part := belongs.get(key):
                found[part] = max(end, found.get(part, 0))
        return dict(sorted(found.items(), key=lambda part: part[1]))

    def where(self, done: int) -> str:
        """The section that a sock is in, without the rounds, which would tell the length of a foot."""
        if not done:
            return NOT_BEGUN
        return next((title for end, title in self.parts() if done < end), FINISHED)

    def parts(self) -> Iterator[tuple[int, str]]:
        """Each section by its end, in the words for it."""
        for key, end in self.ends.items():
            yield end, self.titles[key].lower()


_TEXT = TypeAdapter(PlanSummary)


def as_text(summary: PlanSummary) -> str:
    """The summary as JSON text."""
    return _TEXT.dump_json(summary).decode()


def from_text(text: str) -> PlanSummary | None:
    """The summary in such a text; None when it is not one."""
    try:
        return _TEXT.validate_json(text)
    except ValueError:
        return None


def plan_summary(plan: str) -> PlanSummary | None:
    """The summary of a plan document in JSON, read no further than needed; None when it does not read."""
    try:
        found = read_json(plan.encode("utf-8", "surrogatepass"))
        gauge = found["request"]["gauge"]
        done = 0
        ends, titles = {}, {}
        for section in found["sections"]:
            done += sum(step["times"] * len(step["rounds"]) for step in section["steps"])
            ends[section["key"]], titles[section["key"]] = done, section["title"]
        sizes = found["sizes"]
        return PlanSummary(
            gauge["stitches_per_10cm"],
            sizes["leg_stitches"],
            sizes["leg_cm"],
            ends,
            titles,
            construction_words(Construction.model_validate(found["request"]["construction"])),
        )
    except (UnsoundJSONError, LookupError, TypeError, ValueError):
        return None
