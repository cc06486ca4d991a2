"""The plan request: what a knitter asks for. Lengths in cm, gauge per 10 cm, ease in percent."""

from __future__ import annotations

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import (
    FailFast,
    Field,
    SerializerFunctionWrapHandler,
    Strict,
    StringConstraints,
    ValidationError,
    model_serializer,
    model_validator,
)

from ..faults import Fault, faults_of
from ..frozen_model import FrozenModel
from .construction import Construction
from .cuff import Cuff
from .entries import Number, Text, YarnKey, few, without_empty_entries
from .foot import Foot, OtherFoot
from .part_yarns import PartYarns
from .reinforcing import ReinforcingThread
from .stitch_pattern import StitchPattern

Arrangement: TypeAlias = Literal[
    "double-pointed", "long circular", "two short circulars", "flexible double-pointed", "short circular"
]
Basis: TypeAlias = Literal["ball band", "swatch", "measured"]

FootPattern: TypeAlias = Literal["plain", "instep follows the leg", "instep follows the leg, sole in checks"]
"""Beside an instep in two yarns the sole has them in columns, a pinstripe, or in checks."""

CHECKED: FootPattern = "instep follows the leg, sole in checks"

ROUNDS_PER_STITCH = 1.35
"""Rounds for each stitch over the same length, where only stitches are known.

Munden's loop shape factor for relaxed plain knitting is 1.3 (J. Textile Inst. 50, 1959, T448); ball bands of sock
yarn say up to 1.4. Ours lies between.
"""


Row: TypeAlias = Annotated[str, StringConstraints(pattern=r"^[ABCD]*$", max_length=60)]
Colour: TypeAlias = Annotated[str, StringConstraints(pattern=r"^#[0-9a-f]{6}$")]


class Gauge(FrozenModel):
    """Stitches and rounds over 10 cm. Rounds may be unknown."""

    stitches_per_10cm: Number = Field(ge=14, le=60)
    rounds_per_10cm: Number | None = Field(None, ge=16, le=100)
    basis: Basis = "swatch"

    @model_validator(mode="after")
    def _a_knitted_stitch(self) -> Gauge:
        if self.rounds_per_10cm is not None:
            # Rounded, because 48.26 / 25.4 is 1.9 to a knitter and a little more to a computer.
            ratio = round(self.rounds_per_10cm / self.stitches_per_10cm, 6)
            if not 1.0 <= ratio <= 1.9:
                raise ValueError(
                    f"these rounds are {ratio:.3g} times the stitches, and in plain knitting rounds are 1 to 1.9 times "
                    "the stitches; count both again"
                )
        return self


LEAST_TO_PLAIN, MOST_TO_PLAIN = 0.6, 1.7
"""Stitches or rounds of a stitch pattern for each of plain knitting (ours): loose lace to a close net of cables."""

USUAL_EASE, STRANDED_EASE = 10.0, 5.0
"""Percent smaller than the foot: 10 is usual, and stranded fabric stretches less (common practice)."""


MOST_LENGTH_EASE_CM, LENGTH_EASE_SHARE = 1.0, 0.05
"""How much shorter than the foot a sock is: a centimetre for adults, and about half of that for children.

bartonriveryarn.com has an inch off for adults and half an inch for children; ours is the smaller, wabi-sabi.ca's 1 cm.
"""


def usual_length_ease(length_cm: float) -> float:
    """How much shorter than a foot of this length its sock usually is, in cm: in proportion to a child's foot."""
    return min(MOST_LENGTH_EASE_CM, round(LENGTH_EASE_SHARE * length_cm, 2))


class Ease(FrozenModel):
    """How much smaller than the foot the sock is: round it in percent, along it in cm.

    The percentage, where it is left out, is halved for a stranded sock; the length follows a small foot.
    """

    circumference_percent: Number = Field(USUAL_EASE, ge=-5, le=25)
    length_cm: Number = Field(MOST_LENGTH_EASE_CM, ge=-1, le=4)


class Chart(FrozenModel):
    """The repeat of a colour pattern: one letter a stitch, the key of its yarn.

    Each row is written as it looks on the right side; knitting reads it from its right end. The first row is the
    first round worked. A chart one stitch wide is stripes. With `swap` the second sock exchanges yarns A and B.
    """

    width: Annotated[int, Strict()] = Field(ge=1, le=60)
    rows: Annotated[tuple[Row, ...], FailFast()] = Field(min_length=1, max_length=120)
    swap: bool = False

    @model_validator(mode="after")
    def _a_rectangle(self) -> Chart:
        for number, row in enumerate(self.rows, start=1):
            if len(row) != self.width:
                raise ValueError(
                    f"row {number} has {len(row)} stitches, and the repeat has {self.width}; make every row as wide"
                )
        return self

    @property
    def stranded(self) -> bool:
        """Whether a round is knitted with more than one yarn."""
        return any(len(set(row)) > 1 for row in self.rows)

    @property
    def height(self) -> int:
        """Rounds of the repeat."""
        return len(self.rows)


class Leg(FrozenModel):
    """The leg between cuff and heel: plain knitting, or a pattern, which is the colour chart or the stitch pattern.

    Both go together where the chart is stripes: the colours change by rounds, the pattern by stitches.
    From the toe up it can go on `until` half the yarn at hand is used, and `length_cm` then does not count.
    """

    length_cm: Number = Field(14, ge=1, le=60)
    chart: Chart | None = None
    until: Literal["length", "half the yarn"] = "length"
    stitch_pattern: StitchPattern | None = None

    @property
    def pattern(self) -> Chart | StitchPattern | None:
        """What is knitted over and over, so many stitches wide and so many rounds high."""
        return self.stitch_pattern or self.chart

    @property
    def charted(self) -> Chart | None:
        """The chart that rounds have rows of; under stripes a stitch pattern has them."""
        return None if self.stitch_pattern else self.chart

    @property
    def repeat(self) -> int:
        """Stitches that those of a leg must be a multiple of: the pattern's repeat where that goes all round."""
        placed = self.stitch_pattern and self.stitch_pattern.placement
        return self.pattern.width if self.pattern and not placed else 1

    @property
    def pattern_in_words(self) -> str | None:
        """That in one line, as "lace rib all round, in stripes"; None for plain knitting."""
        if self.stitch_pattern:
            return f"{self.stitch_pattern.in_words}{', in stripes' if self.chart else ''}"
        if self.chart:
            return "in colours" if self.chart.stranded else "stripes"
        return None

    @property
    def rows_together(self) -> int:
        """Rounds of the pattern between which its stitches do not change: 1 for stripes, which no change breaks."""
        pattern = self.pattern
        return pattern.height if pattern and (self.stitch_pattern or pattern.width > 1) else 1

    @property
    def called(self) -> str:
        """What that is called in a sentence."""
        return "chart" if self.charted else "pattern"

    @model_validator(mode="after")
    def _one_pattern(self) -> Leg:
        if self.chart and self.stitch_pattern and self.chart.width > 1:
            raise ValueError(
                "a chart of colours and a stitch pattern are not planned together, only stripes are; leave one of the "
                "two out"
            )
        return self

    @model_serializer(mode="wrap")
    def _as_before_there_were_any(self, shape: SerializerFunctionWrapHandler) -> dict[str, Any]:
        """Without an entry for a stitch pattern where there is none: documents of such legs do not change."""
        entries: dict[str, Any] = shape(self)
        if self.stitch_pattern is None:
            entries.pop("stitch_pattern", None)
        return entries


class Yarn(FrozenModel):
    """One yarn and how much of it is at hand. `colour` is what it looks like on a screen.

    A self-striping yarn goes through all its colours in `colour_repeat_metres`.
    """

    key: YarnKey = "A"
    name: Text = "sock yarn"
    metres_per_100g: Number = Field(420, ge=50, le=1200)
    grams: Number = Field(100, ge=0, le=2000)
    nylon_percent: Number = Field(25, ge=0, le=100)
    colour: Colour | None = None
    colour_repeat_metres: Number | None = Field(None, ge=0.5, le=200)

    @model_serializer(mode="wrap")
    def _as_before_yarns_had_repeats(self, shape: SerializerFunctionWrapHandler) -> dict[str, Any]:
        entries: dict[str, Any] = shape(self)
        if self.colour_repeat_metres is None:
            entries.pop("colour_repeat_metres", None)
        return entries


class Needles(FrozenModel):
    """What the sock is knitted on. Keyed on mm: the same US number is sold in different sizes."""

    arrangement: Arrangement = "double-pointed"
    size_mm: Number = Field(2.5, ge=1, le=8)
    two_at_a_time: bool = False


class SockEntries(FrozenModel):
    """What of a sock can be decided before anybody knows its foot, gauge or heel. The first yarn is the main colour."""

    cuff: Cuff = Cuff()
    leg: Leg = Leg()
    foot_pattern: FootPattern = "plain"
    yarns: Annotated[tuple[Yarn, ...], few(4)] = Field((Yarn(),), min_length=1)
    parts: PartYarns = PartYarns()
    reinforcing_thread: ReinforcingThread = ReinforcingThread()
    needles: Needles = Needles()

    @model_serializer(mode="wrap")
    def _without_what_is_not_asked(self, shape: SerializerFunctionWrapHandler) -> dict[str, Any]:
        return without_empty_entries(shape(self))


class KnitterEntries(FrozenModel):
    """What of a sock depends on whoever knits and wears it: foot, gauge, ease and construction."""

    schema_: Literal[1] = Field(1, alias="schema")
    title: Text = "Socks"
    foot: Foot
    other_foot: OtherFoot = OtherFoot()
    gauge: Gauge
    ease: Ease = Ease()
    construction: Construction = Construction()


class PlanRequest(SockEntries, KnitterEntries):
    """Everything a plan is calculated from. Documents have the entries of the base to the right first.

    A sock is for `foot`; where the `other_foot` is measured apart, the other sock has a plan of its own.
    """

    @property
    def two_feet(self) -> bool:
        """Whether the other sock has a plan of its own: for a foot measured apart, or a toe shaped to one foot."""
        return bool(self.other_foot.given()) or self.construction.for_one_foot

    def for_the_other_foot(self) -> PlanRequest:
        """The request for the other sock of the pair, seen from which this foot is the other one."""
        feet = {"foot": self.other_foot.of(self.foot), "other_foot": self.other_foot.seen_from_it(self.foot)}
        construction = self.construction.for_the_other_foot()
        return PlanRequest.model_validate({**dict(self), **feet, "construction": construction})

    @property
    def instep_follows(self) -> bool:
        """Whether the instep goes on with the pattern of the leg."""
        return self.foot_pattern != "plain"

    @property
    def stranded(self) -> bool:
        """Whether a part of the sock is knitted with more than one yarn in a round."""
        return self.leg.chart is not None and self.leg.chart.stranded

    @model_validator(mode="after")
    def _belongs_together(self) -> PlanRequest:
        keys = [yarn.key for yarn in self.yarns]
        if len(set(keys)) < len(keys):
            raise ValueError(f"yarns {', '.join(keys)} are given; each yarn needs a letter of its own")
        for part, key in self.parts.given().items():
            if key not in keys:
                raise ValueError(f"the {part} is to be in yarn {key}, which is none of the yarns; add the yarn")
        if self.leg.chart:
            missing = sorted({cell for row in self.leg.chart.rows for cell in row} - set(keys))
            if missing:
                raise ValueError(f"the chart uses {' and '.join(missing)}, which is none of the yarns; add the yarn")
            if self.leg.chart.swap and not {"A", "B"} <= set(keys):
                raise ValueError("the second sock exchanges yarns A and B, and needs both")
        self._a_pattern_of_this_yarn()
        if self.leg.until == "half the yarn" and self.construction.direction != "toe-up":
            raise ValueError("the leg can go on until half the yarn is gone only from the toe up; give it a length")
        usual = {"length_cm": usual_length_ease(self.foot.length_cm)}
        if self.stranded:
            usual["circumference_percent"] = STRANDED_EASE
        left_out = {entry: value for entry, value in usual.items() if entry not in self.ease.model_fields_set}
        if left_out:
            # What was left out is settled here, so that the request reads the same wherever it goes. It still counts as
            # left out: on another foot it is settled again.
            given = set(self.ease.model_fields_set)
            object.__setattr__(self, "ease", self.ease.model_copy(update=left_out))
            object.__setattr__(self.ease, "__pydantic_fields_set__", given)
        return self

    @model_validator(mode="after")
    def _one_fabric_beside_the_other(self) -> PlanRequest:
        if self.construction.sole != "plain" and self.instep_follows and (self.stranded or self.leg.stitch_pattern):
            raise ValueError(
                f"the sole is to be {self.construction.sole} beside an instep in pattern, where it is plain; "
                "leave the instep plain, or the sole"
            )
        return self

    def _a_pattern_of_this_yarn(self) -> None:
        pattern, stitches = self.leg.stitch_pattern, self.gauge.stitches_per_10cm
        if pattern is None or pattern.stitches_per_10cm is None or pattern.rounds_per_10cm is None:
            return
        rounds = self.gauge.rounds_per_10cm or stitches * ROUNDS_PER_STITCH
        for what, ratio in (
            ("stitches", pattern.stitches_per_10cm / stitches),
            ("rounds", pattern.rounds_per_10cm / rounds),
        ):
            if not LEAST_TO_PLAIN <= ratio <= MOST_TO_PLAIN:
                raise ValueError(
                    f"the {what} in pattern are {ratio:.3g} times those of plain knitting, and {LEAST_TO_PLAIN:g} to "
                    f"{MOST_TO_PLAIN:g} times are usual; count both again"
                )


def read_request(data: object) -> tuple[PlanRequest | None, list[Fault]]:
    """A request from parsed JSON, or one fault for each entry that is wrong."""
    try:
        return PlanRequest.model_validate(data), []
    except ValidationError as error:
        return None, faults_of(error)
