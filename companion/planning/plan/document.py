"""The plan document: every round of a sock, and what the numbers behind it mean.

These are immutable values. Other programs read the JSON that they make, so its keys are fixed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import chain
from typing import Annotated, Any, Literal, TypeAlias, TypeVar, get_args

from pydantic import FailFast, Field, SerializerFunctionWrapHandler, model_serializer, model_validator

from ..frozen_model import FrozenModel
from ..request.plan_request import PlanRequest
from ..stitches.operations import OPERATIONS, OpName

MOST_ROUNDS = 5000
"""More rounds than any sock has (ours); a plan of the longest leg at the finest gauge has fewer."""

Part = TypeVar("Part")
Many: TypeAlias = Annotated[tuple[Part, ...], FailFast()]
"""Parts in their order. Where one of them is wrong the document is damaged, and the others need not be looked at."""
Some: TypeAlias = Annotated[tuple[Part, ...], FailFast(), Field(min_length=1)]
"""The same where there has to be one."""

Zone: TypeAlias = Literal["leg", "heel", "instep", "sole", "toe"]
Side: TypeAlias = Literal["round", "RS", "WS"]
Kind: TypeAlias = Literal["plain", "setup", "increase", "decrease", "short-row", "pick-up", "finish"]

PartOfSock: TypeAlias = Literal["cuff", "leg", "heel", "gusset", "foot", "toe"]
"""The parts of a sock as a knitter speaks of them, whatever the construction."""

PARTS_OF_SOCK: tuple[PartOfSock, ...] = get_args(PartOfSock)


class Light:
    """A small part: a sock has thousands, made and compared for every way to go on with it.

    So these are dataclasses: checked where a document is read, and not again where the planner makes them.
    """

    __pydantic_config__ = FrozenModel.model_config


Times: TypeAlias = Annotated[int, Field(ge=1, le=1000)]
StitchCount: TypeAlias = Annotated[int, Field(ge=0, le=2000)]


@dataclass(frozen=True)
class Op(Light):
    """One operation, `n` times, in the yarn with this key (None: the main colour)."""

    op: OpName
    n: Times = 1
    yarn: str | None = None

    @model_serializer
    def _without_defaults(self) -> dict[str, Any]:
        shape: dict[str, Any] = {"op": self.op}
        if self.n != 1:
            shape["n"] = self.n
        if self.yarn is not None:
            shape["yarn"] = self.yarn
        return shape


@dataclass(frozen=True)
class Repeat(Light):
    """A group of operations worked `times` times."""

    times: Times
    ops: Some[Op | Repeat]


@dataclass(frozen=True)
class Work(Light):
    """What is worked in one zone of the sock."""

    zone: Zone
    ops: Some[Op | Repeat]


@dataclass(frozen=True)
class Round(Light):
    """One round, or one row of a part worked flat. `before`, `after` and `resting` count stitches."""

    side: Side
    kind: Kind
    work: Some[Work]
    before: StitchCount
    after: StitchCount
    resting: StitchCount = 0
    chart_row: int | None = None
    note: str | None = None

    @property
    def ops(self) -> tuple[Op | Repeat, ...]:
        """The operations in the order they are worked."""
        return tuple(chain.from_iterable(part.ops for part in self.work))

    @cached_property
    def tally(self) -> Mapping[tuple[OpName, str | None], int]:
        """How often each operation is worked in each yarn; None is the main colour."""
        return _tally(self.ops)

    def uses(self, *names: str) -> int:
        """How often any of these operations is worked."""
        return sum(times for (name, _), times in self.tally.items() if name in names)

    @cached_property
    def drawn(self) -> Mapping[str | None, int]:
        """Loops drawn through with each yarn; None is the main colour."""
        found: dict[str | None, int] = {}
        for (name, yarn), times in self.tally.items():
            found[yarn] = found.get(yarn, 0) + times * OPERATIONS[name].loops
        return found

    @cached_property
    def by_yarn(self) -> tuple[tuple[str | None, int, int, int], ...]:
        """Each yarn with its loops in the fabric, those in an edge, and the stitches that it floats behind.

        In a stranded round, which is one of the chart, every yarn goes all the way round: where it is not knitted it
        floats.
        """
        around = sum(self.drawn.values())
        stranded = bool(self.chart_row) and len(self.drawn) > 1
        edges = self.in_edges
        return tuple(
            (yarn, loops - edges, edges, 0) if loops == around else (yarn, loops, 0, (around - loops) * stranded)
            for yarn, loops in self.drawn.items()
        )

    @cached_property
    def yarns(self) -> frozenset[str | None]:
        """The yarns that loops are drawn with; None is the main colour."""
        return frozenset(yarn for yarn, loops in self.drawn.items() if loops)

    @cached_property
    def in_edges(self) -> int:
        """Stitches of a cast-on, a bind-off or a hem that is sewn down; those cast on over waste yarn are no edge."""
        return 0 if self.uses("rest") else self.uses("co", "bo", "sew")

    @cached_property
    def made(self) -> int:
        """Stitches put on the right needle."""
        return sum(times * OPERATIONS[name].makes for (name, _), times in self.tally.items())

    @cached_property
    def is_fabric(self) -> bool:
        """Whether the round adds height: it is knitted into stitches on the needles or on a holder, and leaves some."""
        worked = [OPERATIONS[name] for name, _ in self.tally]
        into = self.uses("resume") > 0 or any(each.takes for each in worked)
        return into and any(each.makes for each in worked)


def _tally(ops: tuple[Op | Repeat, ...]) -> dict[tuple[OpName, str | None], int]:
    found: dict[tuple[OpName, str | None], int] = {}
    for item in ops:
        if isinstance(item, Repeat):
            for worked, times in _tally(item.ops).items():
                found[worked] = found.get(worked, 0) + item.times * times
        else:
            worked = item.op, item.yarn
            found[worked] = found.get(worked, 0) + item.n
    return found


@dataclass(frozen=True)
class Step(Light):
    """A group of rounds worked `times` times."""

    times: Annotated[int, Field(ge=1, le=2000)]
    rounds: Some[Round]


@dataclass(frozen=True)
class Section(Light):
    """A part of the sock with a name of its own. `length_cm` is its height at the plan's gauge."""

    key: str
    title: str
    flat: bool
    length_cm: float
    steps: Many[Step]

    @cached_property
    def count(self) -> int:
        """How many rounds it has."""
        return sum(step.times * len(step.rounds) for step in self.steps)

    def rounds(self) -> tuple[Round, ...]:
        """Every round in the order it is knitted."""
        return self._written_out

    @cached_property
    def _written_out(self) -> tuple[Round, ...]:
        return tuple(chain.from_iterable(step.rounds * step.times for step in self.steps))


class Choice(FrozenModel):
    """A stitch count for the leg that suits the ribbing. A positive ease means smaller than the body."""

    stitches: int
    finished_cm: float
    ease_percent: float
    chosen: bool
    why: str


class Sizes(FrozenModel):
    """The finished sock, unstretched. `heel_pass_cm` is the way round the heel that the foot must go through."""

    leg_stitches: int = Field(ge=1)
    foot_stitches: int = Field(ge=1)
    leg_cm: float = Field(gt=0)
    foot_circumference_cm: float = Field(gt=0)
    foot_length_cm: float = Field(gt=0)
    heel_pass_cm: float = Field(gt=0)


class YarnNeed(FrozenModel):
    """Yarn of one colour: the metres one sock takes, and the grams to have at hand for the pair."""

    key: str
    metres_a_sock: float
    grams_a_pair: float
    enough: bool


class ThreadNeed(FrozenModel):
    """Reinforcing thread: the metres of a sock and of the pair, and where its thickness is known the grams to have."""

    metres_a_sock: float
    metres_a_pair: float
    grams_a_pair: float | None


class Verdict(FrozenModel):
    """How one part of the sock will sit on the foot, and why."""

    what: str
    verdict: Literal["good", "snug", "loose", "will not go on"]
    why: str


class Plan(FrozenModel):
    """A whole sock, round by round. A pair is two of them."""

    schema_: Literal[1] = Field(1, alias="schema")
    title: str
    request: PlanRequest
    choices: Many[Choice]
    sizes: Sizes
    sections: Many[Section]
    yarn: Many[YarnNeed]
    reinforcing_thread: ThreadNeed | None = None
    fit: Many[Verdict]
    estimated: Many[str]
    warnings: Many[str]

    @model_serializer(mode="wrap")
    def _without_a_thread_that_is_not_asked(self, shape: SerializerFunctionWrapHandler) -> dict[str, Any]:
        entries: dict[str, Any] = shape(self)
        if self.reinforcing_thread is None:
            entries.pop("reinforcing_thread", None)
        return entries

    def rounds(self) -> tuple[Round, ...]:
        """Every round of the sock in the order it is knitted."""
        return tuple(chain.from_iterable(section.rounds() for section in self.sections))

    @property
    def count(self) -> int:
        """How many rounds the sock has."""
        return sum(section.count for section in self.sections)

    def spans(self) -> Iterator[tuple[Section, range]]:
        """Each section, and where it lies among the rounds of the sock, counted from 0."""
        begin = 0
        for section in self.sections:
            end = begin + section.count
            yield section, range(begin, end)
            begin = end

    def span(self, key: str) -> range:
        """Where the section with this key lies; behind the last round and empty where the sock has none."""
        return next((span for section, span in self.spans() if section.key == key), range(self.count, self.count))

    @model_validator(mode="after")
    def _every_round_follows_the_one_before(self) -> Plan:
        if self.count > MOST_ROUNDS:
            raise ValueError(f"{self.count} rounds, and a sock has at most {MOST_ROUNDS}; the document is damaged")
        live = 0
        for number, item in enumerate(self.rounds(), start=1):
            if item.before != live:
                raise ValueError(
                    f"round {number} begins with {item.before} stitches, but {live} come from the round before; "
                    "the document is damaged"
                )
            live = item.after
        return self
