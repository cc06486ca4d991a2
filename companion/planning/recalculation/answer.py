"""The answer of a check in a few lines: the verdict, what it rests on, and each way to go on with its price.

What the page of a check shows first, and what the terminal prints. What explains it is elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from ..construction.sections.foot import FOOT
from ..fit.targets import fit_of
from ..gauge.decision import MATTERS
from ..gauge.estimate import Estimate
from ..gauge.observations import INCHES_4, What, listed
from ..plan.document import Plan
from ..units import Unit, counted, in_tenths, show_length
from .changes import Change
from .check_places import FABRIC_CM, CheckPlace, CheckReason, next_check_place
from .misfits import Misfit, misfits
from .options import Option
from .recalculate import Recalculation

MOST_COUNTS = 2
"""Counts that are named before the rest is left to the list of changes: more nobody compares at a glance (ours)."""

TURNED: dict[What, tuple[str, str]] = {
    "stitches": ("looser than planned", "tighter than planned"),
    "rounds": ("taller rounds than planned", "flatter rounds than planned"),
}
"""What fewer and more of them over the same length are called."""

AGAIN: dict[CheckReason, str] = {
    "first fabric": "{round} has the first {cm} of its fabric below it, enough to count on.",
    "while the foot can change": "{round} still leaves enough of it to be made to fit.",
    "before the next part": "{round} is its last, and the next part can still be made to fit.",
    "before the gusset ends": "{round} is its middle: it can still end on another count.",
}
"""Why a check pays at a place."""

QUARTERS = ("", "¼", "½", "¾")


@dataclass(frozen=True)
class WayAnswer:
    """A way to go on: the counts that change, the sizes that come, and the price, a sentence each."""

    option: Option
    counts: str
    sizes: str
    price: str

    @property
    def lines(self) -> tuple[str, str, str]:
        """The three in their order: what is ripped comes first."""
        if self.option.rounds_ripped:
            return self.price, self.counts, self.sizes
        return self.counts, self.sizes, self.price


@dataclass(frozen=True)
class Answer:
    """The verdict in a sentence, her numbers and the size asked for in two more, and the ways to go on.

    `misfit` is the size that the verdict names, `again` why a check pays at the next place; `recommended` is None where
    nothing has to change.
    """

    verdict: str
    reason: str
    misfit: Misfit | None
    again: str
    recommended: WayAnswer | None
    others: tuple[WayAnswer, ...]


def answer_of(found: Recalculation, plan: Plan, done: int, unit: Unit) -> Answer:
    """The answer for a sock with `done` rounds knitted by `plan`, in the knitter's unit."""
    words = _Words(found, plan, done, unit)
    ways = [words.way(option) for option in found.options]
    taken = next((way for way in ways if found.verdict == "change" and way.option.recommended), None)
    return Answer(
        verdict=_sentence(words.verdict()),
        reason=_sentence(words.reason()),
        misfit=words.misfit,
        again=words.why_there(),
        recommended=taken,
        others=tuple(way for way in ways if way is not taken),
    )


def gauge_shown(per_10cm: float, unit: Unit) -> str:
    """A gauge over 10 cm or over 4 in: "28.5", "32"."""
    return in_tenths(per_10cm * (INCHES_4 if unit == "in" else 1))


def about_time(seconds: float) -> str:
    """About how long: to five minutes, and from an hour on to a quarter of one: "about 35 min", "about 1¼ h"."""
    minutes = max(1, round(seconds / 60))
    if minutes < 60:
        return f"about {minutes if minutes < 10 else 5 * round(minutes / 5)} min"
    hours, quarter = divmod(round(minutes / 15), len(QUARTERS))
    return f"about {hours}{QUARTERS[quarter]} h"


@dataclass(frozen=True)
class _Words:
    """The sentences of one recalculation."""

    found: Recalculation
    plan: Plan
    done: int
    unit: Unit

    @cached_property
    def misfit(self) -> Misfit | None:
        """The first size that would not be as asked for."""
        return next(misfits(self.plan, self.done, self.found.if_unchanged), None)

    @cached_property
    def gauges(self) -> dict[What, Estimate]:
        return {"stitches": self.found.gauges.stitches, "rounds": self.found.gauges.rounds}

    @cached_property
    def planned(self) -> dict[What, float]:
        return dict(self.found.planned.both())

    def verdict(self) -> str:
        """What it comes to, and what to do where that is one thing alone."""
        if self.done == self.plan.count:
            return "this sock is finished. Its gauge is the one to plan the next sock with"
        turned = self._turned()
        match self.found.verdict:
            case "measure again":
                return f"perhaps {turned or 'not as planned'}: {self._more()}"
            case "change":
                return f"{turned or 'not as planned'}{self._what_comes()}"
        place = self._next_place()
        again = f"; check again at {self._round(place)} of the {self._part(place)}" if place else ""
        return f"{turned}, but no change is worth it: knit on{again}" if turned else f"as planned. Knit on{again}"

    def _more(self) -> str:
        """What to count before a change is believed."""
        later = self.found.measure.after_round if self.found.measure else None
        if later is None:
            return "three more places, then we know"
        section = next(section for section, span in self.plan.spans() if span.start < later <= span.stop)
        number = later - self.plan.span(section.key).start
        return f"knit on to round {number} of the {section.title.lower()}, and check again there"

    def _what_comes(self) -> str:
        if self.misfit is None:
            return "; what is ahead follows"
        would = "would be" if self.misfit.comes else "is"
        return f": the {self.misfit.part} {would} {self.misfit.in_words(self.unit)}"

    def _turned(self) -> str:
        """How the fabric differs from the plan by as much as is felt; nothing where it does not."""
        for what, estimate in self.gauges.items():
            planned = self.planned[what]
            if estimate.counted and abs(estimate.per_10cm / planned - 1) > MATTERS[what]:
                return TURNED[what][estimate.per_10cm > planned]
        return ""

    def _next_place(self) -> CheckPlace | None:
        return next_check_place(self.plan, self.done)

    def _round(self, place: CheckPlace) -> str:
        return f"round {place.round - self.plan.span(place.section).start}"

    def _part(self, place: CheckPlace) -> str:
        return next(section.title.lower() for section in self.plan.sections if section.key == place.section)

    def why_there(self) -> str:
        """Why a check pays at the next place; nothing where there is none."""
        place = self._next_place()
        if place is None:
            return ""
        named = f"{self._round(place).capitalize()} of the {self._part(place)}"
        return AGAIN[place.why].format(round=named, cm=show_length(FABRIC_CM, self.unit))

    def reason(self) -> str:
        """Her numbers beside the planned ones, and the size that was asked for."""
        known = {what: estimate for what, estimate in self.gauges.items() if estimate.counted}
        numbers = listed([f"{gauge_shown(estimate.per_10cm, self.unit)} {what}" for what, estimate in known.items()])
        planned = listed([gauge_shown(self.planned[what], self.unit) for what in known])
        missing = "".join(f", {what} not counted" for what in self.gauges if what not in known)
        over = "10 cm" if self.unit == "cm" else "4 in"
        over += " in pattern" if self.found.in_pattern else ""
        return f"{numbers} over {over}, planned {planned}{missing}. {self._sizes_named()}"

    def _sizes_named(self) -> str:
        """The size that was asked for, and that the plan has another, where it had to choose one."""
        if self.misfit and self.found.verdict == "change":
            return f"Wanted: {show_length(self.misfit.asked_cm, self.unit)}{' long' if self.misfit.along else ''}"
        wanted = show_length(fit_of(self.plan.request).foot_target, self.unit)
        chosen = next(misfits(self.plan, self.done, self.plan.sizes), None)
        if chosen and (chosen.part, chosen.along) == (FOOT.key, False):
            other = "wider" if chosen.is_cm > chosen.asked_cm else "narrower"
            return f"Wanted: foot {wanted}; planned {other}, to suit the repeats"
        return f"Wanted: foot {wanted}"

    def way(self, option: Option) -> WayAnswer:
        """A way to go on."""
        return WayAnswer(option, _sentence(self._counts(option)), _sentence(self._sizes(option)), _price(option))

    def _counts(self, option: Option) -> str:
        """The first of the counts that change: needle, stitches, then the rounds of the parts."""
        changes = {change.what: change for change in option.changes}
        if needle := changes.get("Needle"):
            return f"needle {needle.before} → {needle.after}"
        leg, foot = (_move(changes.get(what), " stitches") for what in ("Leg stitches", "Foot stitches"))
        if leg and leg == foot:
            return f"leg and foot {leg}"
        moves = [f"{tube} {move}" for tube, move in (("leg", leg), ("foot", foot)) if move]
        moves += [
            f"{one.title.lower()} {move}" for one in self.plan.sections if (move := _move(changes.get(one.title)))
        ]
        return ", ".join(moves[:MOST_COUNTS]) or "every count stays"

    def _sizes(self, option: Option) -> str:
        """The sizes that come, and by how much they stay off; "about" where the rounds were not counted."""
        sizes, unit = option.sizes, self.unit
        leg, foot, length = (
            show_length(cm, unit) for cm in (sizes.leg_cm, sizes.foot_circumference_cm, sizes.foot_length_cm)
        )
        off = {(one.part, one.along): one.in_words(unit) for one in misfits(self.plan, self.done, sizes)}
        across, lengthwise = off.get(("foot", False)), off.get(("foot", True))
        around = f"{foot} ({across})" if across else f"{foot} round"
        along = f"{length} ({lengthwise})" if lengthwise else f"{length} long"
        same_leg = sizes.leg_cm == self.found.if_unchanged.leg_cm
        legs = "" if same_leg else "leg and " if leg == foot else f"leg {leg}, "
        return f"{legs}foot {around}, {'' if self.found.gauges.rounds.counted else 'about '}{along}"


def _move(change: Change | None, noun: str = "") -> str:
    """From one count to the other, the noun said once: "62 → 56 rounds"."""
    return f"{change.before.partition(' ')[0]} → {change.after}{noun}" if change else ""


def _price(option: Option) -> str:
    """What is ripped and knitted again, and how long that takes where the pace is known."""
    if not option.rounds_ripped:
        return "Nothing is ripped."
    time = f", {about_time(option.seconds)}" if option.seconds else ""
    return f"{counted(option.rounds_ripped, 'round')} ripped: {option.stitches_ripped:,} stitches{time}."


def _sentence(said: str) -> str:
    return f"{said[0].upper()}{said[1:]}."
