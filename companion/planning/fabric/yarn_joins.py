"""Where a yarn is joined, where it waits, and where it is cut: told in the notes of the rounds."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from ..gauge.observations import listed
from ..plan.document import Op, Round
from ..request.plan_request import PlanRequest
from .colour_edge import shows_the_old
from .own_yarn import OwnYarn

Rounds = tuple[Round, ...]
Yarns = frozenset[str]


@dataclass(frozen=True)
class YarnSection:
    """The rounds of a section, and what comes before and after them.

    `own` is the yarn of its part, `after` the last round before it, and `pauses` says that the pattern, which this
    section does not have, goes on in a later one.
    """

    rounds: Rounds
    own: OwnYarn | None
    after: Round | None
    pauses: bool


class YarnJoins:
    """Follows the yarns of a request through the sections of a sock, in the order of knitting."""

    def __init__(self, request: PlanRequest) -> None:
        chart = request.leg.chart
        self._main = request.yarns[0].key
        self._alone = len(request.yarns) == 1
        self._of_chart: Yarns = frozenset(yarn for row in chart.rows for yarn in row) if chart else frozenset()
        self._of_parts: Yarns = frozenset({self._main, *request.parts.given().values()})
        if request.leg.charted is None:
            self._of_parts |= self._of_chart  # stripes go on beyond the rounds of the pattern that they lie under

    def with_notes(self, section: YarnSection, done: int, there: Yarns) -> tuple[Rounds, Yarns]:
        """The rounds, those behind the first `done` telling what becomes of the yarns, and the yarns then attached.

        `there` are those attached before.
        """
        rounds = section.rounds
        if not rounds or self._alone:
            return rounds, there
        if rounds[0].before:
            there, begins = self._begun(section, there)
        else:  # a cast-on, or the stitches of an opening: nothing hangs there
            there, begins = self._used(rounds[0]), []
        noted = list(rounds)
        for number, item in enumerate(rounds):
            if number > 1 and item is rounds[number - 1]:
                continue  # nothing new can be said of the same round again
            used = self._used(item) - (self._passed(section) if number == 0 else frozenset())
            cut, how = self._cut(section, number, there, used)
            sentences = [*(begins if number == 0 else ()), *how]
            there -= cut
            if new := used - there:
                there |= new
                sentences.append(f"Join {_named(new)} here.")
            if number == 0 and (shown := shows_the_old(item, section.after, self._main)):
                sentences.append(shown)
            if sentences and number >= done:
                noted[number] = replace(item, note=" ".join(filter(None, [item.note, *sentences])))
        return tuple(noted), there

    def _begun(self, section: YarnSection, there: Yarns) -> tuple[Yarns, list[str]]:
        """The yarns still attached where a section begins, and what is said of those that it does not go on with.

        A part worked in rows ends elsewhere than it began, so that they would have to be carried there.
        """
        rounds, own = section.rounds, section.own
        pattern = self._of_chart - {self._main} if section.after and section.after.chart_row else frozenset()
        idle = (pattern | (there & self._of_parts)) - {own.key if own else self._main}
        later = self._later(rounds)
        waiting = idle & later if rounds[0].side != "round" else frozenset()
        cut = idle - later
        said = [f"{_named(waiting, 'Yarn')} wait{'s' * (len(waiting) == 1)} where the round begins."] if waiting else []
        said += self._cut_at_the_beginning(section, cut & pattern, cut - pattern)
        there -= cut
        return (there if any(item.chart_row for item in rounds) else there & self._of_parts), said

    def _cut_at_the_beginning(self, section: YarnSection, pattern: Yarns, others: Yarns) -> Iterator[str]:
        if pattern and section.pauses:
            it_is = "it is" if len(pattern) == 1 else "they are"
            yield f"Cut {_named(pattern)}: {it_is} joined again where the pattern goes on."
        elif pattern:
            yield f"The pattern ends here. Cut {_named(pattern)}."
        own = section.own
        again = f": it is joined again after the {own.part}" if own and own.between and others == {self._main} else ""
        if passed := others & self._passed(section):
            first = section.rounds[0].ops[0]
            assert isinstance(first, Op)
            yield f"Knit the first {first.n} stitches with {_named(passed)} and cut it{again}."
        elif others:
            yield f"Cut {_named(others)}{again}."

    def _cut(self, section: YarnSection, number: int, there: Yarns, used: Yarns) -> tuple[Yarns, list[str]]:
        """The yarns cut at a round on the way, and how that is said.

        The rounds between the halves of a heel end where they begin: its own yarn hangs there until it goes on.
        """
        rounds = section.rounds
        if number == 0 and _ends_elsewhere(rounds[0]) and (elsewhere := there - used):
            it_is = "it is" if len(elsewhere) == 1 else "they are"
            return elsewhere, [f"Cut {_named(elsewhere)}: {it_is} joined again where the rounds then begin."]
        ended = (there & {section.own.key}) - self._later(rounds) if section.own and number else None
        if not ended or (rounds[number].side == "round") == (rounds[number - 1].side == "round"):
            return frozenset(), []
        if rounds[number].side != "round":
            return frozenset(), [f"Take up {_named(ended)} again."]
        go_on = f", and go on with yarn {self._main}" if self._main in used & there else ""
        if any(item.side != "round" for item in rounds[number:]):
            return frozenset(), [f"Let {_named(ended)} hang{go_on}."]
        return ended, [f"Cut {_named(ended)}{go_on}."]

    def _passed(self, section: YarnSection) -> Yarns:
        """The yarn in which the first row works its way to a part of its own yarn."""
        return self._used(section.rounds[0]) - {section.own.key} if section.own else frozenset()

    def _used(self, item: Round) -> Yarns:
        return frozenset(yarn or self._main for yarn in item.yarns)

    def _later(self, rounds: Rounds) -> Yarns:
        """The yarns of a section's rounds, those of its pattern included; rows have no other than the first row."""
        different = {item.yarns for item in rounds if item.side == "round"}
        in_rounds = frozenset(yarn or self._main for yarns in different for yarn in yarns)
        return in_rounds | self._of_chart if any(item.chart_row for item in rounds) else in_rounds


def _named(yarns: Collection[str], noun: str = "yarn") -> str:
    """Yarns by their keys: "yarn B", "yarns B and C"."""
    return f"{noun}{'s' * (len(yarns) > 1)} {listed(sorted(yarns))}"


def _ends_elsewhere(item: Round) -> bool:
    """Whether a round goes on from a flap's heel past the place where it began: the next ones begin at the sole."""
    return item.kind == "pick-up" and item.before > 0 and item.work[0].zone == "heel"
