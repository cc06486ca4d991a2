"""A design: a plan request without foot and gauge, for any number of people who bring their own. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from operator import attrgetter
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import (
    AfterValidator,
    BeforeValidator,
    Field,
    Strict,
    StringConstraints,
    ValidationError,
    field_serializer,
    field_validator,
    model_validator,
)

from ..faults import Fault, faults_of
from ..frozen_model import FrozenModel
from ..request.construction import HEEL_WORDS, TOE_WORDS, Construction
from ..request.entries import Text, few
from ..request.foot import Foot, OtherFoot
from ..request.plan_request import (
    Ease,
    Gauge,
    PlanRequest,
    SockEntries,
)
from .document import PartOfSock

MOST_CONSTRUCTIONS = 2 * len(HEEL_WORDS.words) * len(TOE_WORDS.words)
"""Both directions of each heel with each toe."""
MOST_STAGES = 8
"""A sock has six parts, and a leader may split one or add another (ours)."""


def _tidy(text: str) -> str:
    """Text of several lines without control characters and without space at its ends."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return "\n".join("".join(each if each.isprintable() else " " for each in line).rstrip() for line in lines).strip()


def _some(text: str) -> str:
    if not text:
        raise ValueError("a name is needed here, like “leg done”")
    return text


def _a_day(given: object) -> object:
    if isinstance(given, date):
        return given
    try:
        return date.fromisoformat(str(given))
    except ValueError:
        raise ValueError("a day is needed here, like 2026-12-06") from None


Day: TypeAlias = Annotated[date, BeforeValidator(_a_day)]
Note: TypeAlias = Annotated[str, StringConstraints(max_length=1000), AfterValidator(_tidy)]
TimeZone: TypeAlias = Annotated[str, StringConstraints(pattern=r"\A[A-Za-z0-9_+/-]{1,60}\z")]
"""The name of a time zone in the IANA time zone database, like Europe/Berlin."""


OwnPart: TypeAlias = Literal["needles", "leg length", "ease", "yarn"]
OWN_ENTRIES: Mapping[OwnPart, str] = {
    "needles": "needles",
    "leg length": "leg.length_cm",
    "ease": "ease",
    "yarn": "yarns",
}
"""What a leader may leave to each follower, with the entry of a plan request that it is."""


class Stage(FrozenModel):
    """A part of one sock that is to be done by the end of a day, in the design's time zone."""

    name: Annotated[Text, AfterValidator(_some)]
    sock: Literal[1, 2] = 1
    until: PartOfSock
    by: Day


class ProposedEntries(FrozenModel):
    """What a design proposes to each follower: the ease for her foot, and the constructions to choose from."""

    schema_: Literal[1] = Field(1, alias="schema")
    title: Text = "Socks"
    ease: Ease = Ease()
    constructions: Annotated[tuple[Construction, ...], few(MOST_CONSTRUCTIONS)] = Field((Construction(),), min_length=1)


class Design(SockEntries, ProposedEntries):
    """What a leader publishes. The first construction is the one proposed; a follower may take any of them.

    `notes` are the leader's words for a part of the sock, `leader` and `welcome` her name and her words to those who
    join. `own` is what followers choose for themselves. Where `numbers_hidden`, a follower sees the
    numbers for her foot only in a plan. `hidden_until` has the parts that followers see only from a day on, in the
    design's time zone. A leg that goes on until half of the yarn is gone leaves the constructions from the toe up.
    """

    notes: dict[PartOfSock, Note] = Field(default_factory=dict)
    own: Annotated[tuple[OwnPart, ...], few(len(OWN_ENTRIES))] = ()
    leader: Text = ""
    welcome: Note = ""
    numbers_hidden: Annotated[bool, Strict()] = False
    hidden_until: dict[PartOfSock, Day] = Field(default_factory=dict)
    time_zone: TimeZone = "UTC"
    stages: Annotated[tuple[Stage, ...], few(MOST_STAGES)] = ()

    @field_serializer("ease")
    def _ease_that_was_given(self, ease: Ease) -> dict[str, float]:
        """What was left out stays so where a design is kept: it depends on each follower's foot."""
        return ease.model_dump(exclude_unset=True)

    @field_validator("constructions")
    @classmethod
    def _each_once(cls, given: tuple[Construction, ...]) -> tuple[Construction, ...]:
        if len(set(given)) < len(given):
            raise ValueError("the same construction stands there twice; keep one of the two")
        return given

    @model_validator(mode="after")
    def _can_be_hidden(self) -> Design:
        if len(self.constructions) > 1 and {"heel", "toe"} & self.hidden_until.keys():
            raise ValueError(
                "a heel or a toe is kept secret where everybody knits the same construction; allow one alone, or show "
                "both parts from the start"
            )
        pattern = self.leg.stitch_pattern
        if pattern and "leg" in self.hidden_until and not pattern.is_counted:
            raise ValueError(
                "a stitch pattern that is kept secret needs its gauge, since followers cannot swatch it; count its "
                "stitches and rounds over 10 cm"
            )
        return self

    @model_validator(mode="after")
    def _half_the_yarn_is_for_the_toe_up(self) -> Design:
        # From the cuff down the leg comes before the rest, and nobody can know when half of the yarn is left.
        if self.leg.until == "half the yarn":
            toe_up = tuple(one for one in self.constructions if one.direction == "toe-up")
            object.__setattr__(self, "constructions", toe_up or self.constructions)
        return self

    @property
    def hidden(self) -> dict[PartOfSock, date]:
        """The hidden parts with their days. A gusset tells of its heel, and is hidden as long as that."""
        days = dict(self.hidden_until)
        if heel := days.get("heel"):
            days["gusset"] = max(heel, days.get("gusset", heel))
        return days

    def sock_alone(self) -> Design:
        """What of the design is knitted: all but the words, the stages and what it leaves to others, which change no
        stitch."""
        return self.model_copy(
            update={name: Design.model_fields[name].get_default(call_default_factory=True) for name in BESIDE_THE_SOCK}
        )


BESIDE_THE_SOCK = ("notes", "own", "leader", "welcome", "numbers_hidden", "hidden_until", "time_zone", "stages")
"""The entries of a design that no stitch depends on."""


def read_design(data: object) -> tuple[Design | None, list[Fault]]:
    """A design from parsed JSON, or one fault for each entry that is wrong."""
    try:
        design = Design.model_validate(data)
        request_for(design, USUAL_FOOT, USUAL_GAUGE)
        return design, []
    except ValidationError as error:
        return None, faults_of(error)


USUAL_FOOT = Foot(ball_circumference_cm=23, length_cm=25)
"""An adult's foot, for what has to be shown of a design before anybody has measured one (ours)."""
USUAL_GAUGE = Gauge(stitches_per_10cm=30)
"""A gauge that ball bands of sock yarn give, for the same purpose (common practice)."""

TAKEN_OVER = tuple(name for name in PlanRequest.model_fields if name in Design.model_fields)
"""The entries that a plan request takes from a design as they are."""


def request_for(
    design: Design,
    foot: Foot,
    gauge: Gauge,
    construction: Construction | None = None,
    other_foot: OtherFoot | None = None,
) -> PlanRequest:
    """The plan request of one follower, by the construction she chose or the one proposed.

    A construction that the design does not allow (any more) gives way to the one proposed.
    """
    allowed = construction if construction in design.constructions else design.constructions[0]
    entries = {name: getattr(design, name) for name in TAKEN_OVER}
    return PlanRequest(**entries, foot=foot, other_foot=other_foot or OtherFoot(), gauge=gauge, construction=allowed)


SMALL_FOOT_CM = 22.0
"""The length of a foot below which a leg is made shorter in proportion: that of a child of ten or so (ours)."""


def leg_for(foot: Foot, leg_cm: float) -> float:
    """The leg for a foot where a design has it so long for an adult: a child's is shorter, to half a centimetre."""
    return max(1.0, round(2 * leg_cm * min(1.0, foot.length_cm / SMALL_FOOT_CM)) / 2)


def keeping_own(design: Design, taken: Design, before: PlanRequest) -> PlanRequest:
    """The request by a changed design for a pair that has this one `before`, with what its knitter chose herself.

    `taken` is the design as it was when she was planned by it. Raises ValidationError where that does not go together.
    """
    wanted = request_for(design, before.foot, before.gauge, before.construction, before.other_foot)
    laid_down = request_for(taken, before.foot, before.gauge, before.construction)
    entries = wanted.model_dump(by_alias=True)
    for part in design.own:
        hers, *others = (attrgetter(OWN_ENTRIES[part])(request) for request in (before, laid_down, wanted))
        as_many = part != "yarn" or len(hers) == len(others[1])
        if hers != others[0] and as_many:
            _put(entries, OWN_ENTRIES[part], before.model_dump(by_alias=True))
    return PlanRequest.model_validate(entries)


def _put(entries: dict[str, Any], where: str, source: dict[str, Any]) -> None:
    part, _, entry = where.partition(".")
    if entry:
        entries[part][entry] = source[part][entry]
    else:
        entries[part] = source[part]


OWN = frozenset(Design.model_fields) - frozenset(PlanRequest.model_fields)
"""The entries that a design has and a plan request has not."""
