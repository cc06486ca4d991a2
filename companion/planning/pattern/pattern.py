"""The whole written pattern of a sock, for one foot or graded for several sizes, made of the plans of single sizes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from ..construction.constructions import parts_of
from ..construction.cuff_elastic import elastic_advice, reaches_over_the_calf
from ..construction.sections.edge_rounds import FOLDS
from ..construction.sizes import round_the_top
from ..construction.warnings import ESTIMATED_SMALL
from ..gauge.observations import listed
from ..plan.document import Plan, Section
from ..request.plan_request import Chart
from ..request.stitch_pattern import StitchPattern
from ..units import (
    WEIGHTS,
    YARN_LENGTHS,
    Unit,
    both_needle_sizes,
    both_yardages,
    in_one_unit,
    show_length,
    show_number,
    show_weight,
    show_yarn_length,
)
from ..yarn.requirement import metres_of_the_pair
from .abbreviations import meanings_of
from .chart_text import ChartWords
from .grading.brackets import bracketed, not_said_before, skeleton
from .grading.graded import Grading, said_by
from .grading.in_pattern import explained, in_pattern
from .grading.passages import Words
from .needles import needle_notes
from .part_yarn_text import said_first, seen_from
from .rounds_text import PatternLine, abbreviations, gauges_words, row_name, to_finish
from .striped import said_of_stripes, without_stripes
from .swatch import WrittenSwatch, swatch_meanings, swatch_of, written_swatch
from .tables import Group, Table

CAUTIONS = (
    "Try the sock on before its last opening is closed or bound off.",
    "Wool or nylon can irritate some skins. Wash by the ball band. Knitted socks are slippery on smooth floors. "
    "Rest hands and wrists every half hour. For diabetic feet or compression ask a professional first.",
)
"""Usual cautions of the trade."""


READING = "a number alone is for all of them, and 0 or a dash stands where a size has none"
"""How brackets are read."""


@dataclass(frozen=True)
class Size:
    """One size of a pattern: what it is called, and its plan."""

    name: str
    plan: Plan


@dataclass(frozen=True)
class PatternSection:
    """One part of the sock: its lengths, the leader's note on it, what is said at its beginning, and its rounds.

    That is the yarn of a part that has its own, and where its stitches lie if not as in the part before.
    """

    key: str
    title: str
    length: str
    note: str
    opening: str
    lines: tuple[PatternLine, ...]


@dataclass(frozen=True)
class Pattern:
    """A written pattern in the order in which it is read.

    `facts` are what is needed and known before casting on, each with its heading. `measurements` belong to the
    schematic.
    """

    title: str
    sizes: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    measurements: Table
    abbreviations: dict[str, str]
    chart: Chart | None
    stitch_pattern: StitchPattern | None
    swatch: WrittenSwatch | None
    sections: tuple[PatternSection, ...]
    closing: tuple[str, ...]


def pattern_of(sizes: Sequence[Size], unit: Unit, notes: Mapping[str, str] = MappingProxyType({})) -> Pattern:
    """The pattern of these sizes of one design, in the bracket form; all must have the same construction.

    `notes` are the leader's words by the keys of the sections.
    """
    plans = [size.plan for size in sizes]
    first = plans[0]
    sections = tuple(_sections(sizes, unit, notes))
    # A line for several sizes may leave the choice between two ways to shape, of which a plan has only one.
    told = (line.text for section in sections for line in section.lines)
    used = {short for plan in plans for short in abbreviations(plan)}
    swatch = swatch_of(first.request)
    return Pattern(
        title=first.title,
        sizes=tuple(size.name for size in sizes),
        facts=tuple(_facts(sizes, unit)),
        notes=tuple(_notes(sizes, unit)),
        measurements=_measurements(sizes, unit),
        abbreviations=meanings_of(told, used) | (swatch_meanings(swatch) if swatch else {}),
        chart=first.request.leg.chart,
        stitch_pattern=first.request.leg.stitch_pattern,
        swatch=written_swatch(swatch, unit) if swatch else None,
        sections=sections,
        closing=_closing(first),
    )


def _each(sizes: Sequence[Size], text_of: Callable[[Plan], str]) -> str:
    return bracketed([text_of(size.plan) for size in sizes])


def _facts(sizes: Sequence[Size], unit: Unit) -> list[tuple[str, str]]:
    request = sizes[0].plan.request

    def long(read: Callable[[Plan], float]) -> str:
        return f"{_each(sizes, lambda plan: show_number(read(plan), unit))} {unit}"

    facts = []
    if len(sizes) > 1:
        facts.append(("Sizes", f"{_names(sizes, unit)}; {READING}"))
    facts += [
        (
            "To fit",
            f"a foot {long(lambda plan: plan.request.foot.ball_circumference_cm)} round the ball and "
            f"{long(lambda plan: plan.request.foot.length_cm)} long",
        ),
        (
            "Finished sock",
            f"{long(lambda plan: plan.sizes.foot_circumference_cm)} round the foot, "
            f"{long(lambda plan: plan.sizes.foot_length_cm)} from heel to toe",
        ),
        ("Gauge", gauges_words(request, unit)),
        (
            "Needles",
            f"{in_one_unit(both_needle_sizes(request.needles.size_mm), unit)}, {request.needles.arrangement}, "
            "or the size that gives the gauge",
        ),
    ]
    facts += [_yarn(sizes, number, unit) for number in range(len(request.yarns))]
    if request.reinforcing_thread.parts:
        facts.append(("Reinforcing thread", _thread(sizes, unit)))
    facts.append(("Notions", ", ".join(_notions([size.plan for size in sizes]))))
    return facts


def _names(sizes: Sequence[Size], unit: Unit) -> str:
    """What the sizes are called, their unit once where all are lengths."""
    names = [size.name for size in sizes]
    if all(name.endswith(f" {unit}") for name in names):
        return f"{bracketed([name.removesuffix(f' {unit}') for name in names])} {unit}"
    return bracketed(names)


def _yarn(sizes: Sequence[Size], number: int, unit: Unit) -> tuple[str, str]:
    yarns = sizes[0].plan.request.yarns
    yarn = yarns[number]
    long = _each(sizes, lambda plan: show_yarn_length(metres_of_the_pair(plan, number), unit))
    heavy = _each(sizes, lambda plan: show_weight(plan.yarn[number].grams_a_pair, unit, 0))
    return (
        f"Yarn {yarn.key}" if len(yarns) > 1 else "Yarn",
        f"{yarn.name}, {in_one_unit(both_yardages(yarn.metres_per_100g), unit)}, {yarn.nylon_percent:g} % nylon: "
        f"{long} {YARN_LENGTHS[unit]} for the pair, {heavy} {WEIGHTS[unit]} with a tenth in hand",
    )


def _thread(sizes: Sequence[Size], unit: Unit) -> str:
    """What the pair takes of the reinforcing thread, in the sizes' order."""
    needs = [need for size in sizes if (need := size.plan.reinforcing_thread)]
    metres = bracketed([show_yarn_length(need.metres_a_pair, unit) for need in needs])
    weights = [show_weight(need.grams_a_pair, unit) for need in needs if need.grams_a_pair is not None]
    grams = bracketed(weights) if weights else ""
    parts = " and ".join(sizes[0].plan.request.reinforcing_thread.parts)
    heavy = f", {grams} {WEIGHTS[unit]} with a tenth in hand" if grams else ""
    return f"for {parts}: {metres} {YARN_LENGTHS[unit]} for the pair{heavy}"


def _notions(plans: Sequence[Plan]) -> list[str]:
    """What is needed besides yarn and needles (common practice)."""
    plan = plans[0]
    used = {name: sum(item.uses(name) for item in plan.rounds()) for name in ("graft", "sew", "rest", "resume")}
    sewn = [what for name, what in (("graft", "grafting"), ("sew", "the hem")) if used[name]]
    found = ["tape measure", "scissors", f"blunt tapestry needle for {listed([*sewn, 'ends'])}"]
    if used["resume"]:
        found.append("smooth waste yarn")
    if used["resume"] > used["rest"]:
        found.append("crochet hook")
    if plan.request.needles.arrangement == "short circular":
        found.append("double-pointed needles of the same size")
    if any(map(reaches_over_the_calf, plans)):
        found.append("flat elastic, 6 to 10 mm wide" if plan.request.cuff.edge in FOLDS else "elastic thread")
    return [*found, "stitch markers"]


def _notes(sizes: Sequence[Size], unit: Unit) -> list[str]:
    """How it fits, and what to mind; each said once for all sizes that share it."""
    plans = [size.plan for size in sizes]
    notes = []
    for what in dict.fromkeys(one.what for plan in plans for one in plan.fit):
        verdicts = [next((one.verdict for one in plan.fit if one.what == what), "–") for plan in plans]
        whys = [in_one_unit(one.why, unit) for one in plans[0].fit if one.what == what and len(sizes) == 1]
        notes.append(" ".join((f"{what}: {bracketed(verdicts)}.", *whys)))
    if any(plan.estimated and ESTIMATED_SMALL not in plan.warnings for plan in plans):
        notes.append("What is not given of the foot is estimated: measure the foot that is to wear the sock.")
    return [*notes, *_warnings(sizes, unit)]


def _warnings(sizes: Sequence[Size], unit: Unit) -> Iterator[str]:
    """What the plans warn of; sizes that are warned in the same words share them."""
    alike: dict[tuple[str, int], list[str | None]] = {}
    for number, size in enumerate(sizes):
        told = Counter[str]()
        for warning in (*size.plan.warnings, *elastic_advice(size.plan)):
            words = in_one_unit(warning, unit)
            says = skeleton(words)
            alike.setdefault((says, told[says]), [None] * len(sizes))[number] = words
            told[says] += 1
    names = [size.name for size in sizes]
    in_common = (said_by(names, of_each, len(sizes)) for of_each in alike.values())
    return (f"{whose}: {text}" if whose else text for text, whose in in_common)


def _height(key: str) -> Callable[[Plan], float | None]:
    return lambda plan: next((section.length_cm for section in plan.sections if section.key == key), None)


def _measurements(sizes: Sequence[Size], unit: Unit) -> Table:
    """The measurements of the schematic, a row each, a column for each size."""
    plans = [size.plan for size in sizes]

    def row(name: str, read: Callable[[Plan], float | None]) -> tuple[str, ...]:
        found = [read(plan) for plan in plans]
        return (name, *(show_number(each, unit) if each is not None else "–" for each in found))

    shaped = any(round_the_top(plan) != plan.sizes.leg_cm for plan in plans)
    legs = (("Round the top of the leg", round_the_top),) if shaped else ()
    around = (
        *(row(*each) for each in legs),
        row("Round the leg above the heel" if shaped else "Round the leg", lambda plan: plan.sizes.leg_cm),
        row("Round the foot", lambda plan: plan.sizes.foot_circumference_cm),
        row("Heel pass", lambda plan: plan.sizes.heel_pass_cm),
    )
    along = [
        row(part.title, _height(part.key))
        for part in parts_of(plans[0].request.construction)
        if any(section.key == part.key and section.length_cm for plan in plans for section in plan.sections)
    ]
    whole = row("Heel to toe", lambda plan: plan.sizes.foot_length_cm)
    return Table(
        caption=f"Measurements of the finished sock, {unit}",
        columns=("Measurement", *(size.name for size in sizes)),
        groups=(Group("Circumferences", around), Group("Lengths", (*along, whole))),
    )


def _sections(sizes: Sequence[Size], unit: Unit, notes: Mapping[str, str]) -> list[PatternSection]:
    graded = len(sizes) > 1
    words: list[Words] = [ChartWords(size.plan, graded=graded).text for size in sizes]
    if graded:
        words = [in_pattern(size.plan, text) for size, text in zip(sizes, words, strict=True)]
    needles = [needle_notes(size.plan) for size in sizes]
    striped = [said_of_stripes(size.plan) for size in sizes]
    first = sizes[0].plan.request
    found: list[PatternSection] = []
    last_note = last_lie = ""
    for part in parts_of(first.construction):
        there = _sections_of(sizes, part.key)
        if not there:
            continue
        own = part.own_yarn(first)
        yarn = said_first(next(iter(there.values())), own)
        in_stripes = {number: each for number in there if (each := striped[number].get(part.key))}
        there = {number: seen_from(section, own, first) for number, section in there.items()}
        there |= {number: without_stripes(there[number]) for number in in_stripes}
        grading = Grading([size.name for size in sizes], words, unit, row_name(first))
        lengths = bracketed(
            [show_number(there[number].length_cm, unit) if number in there else None for number in range(len(sizes))]
        )
        lie = grading.in_one({number: needles[number][part.key] for number in there}) or ""
        stripes = grading.in_one(in_stripes)
        found.append(
            PatternSection(
                key=part.key,
                title=part.title,
                length=f"{lengths} {unit}",
                # A note on the heel is said once, before its flap, and not again before its turn.
                note=notes.get(part.key, "") if notes.get(part.key) != last_note else "",
                opening=" ".join(filter(None, [yarn, not_said_before(lie, last_lie), stripes])),
                lines=explained(grading.lines(there), sizes[0].plan),
            )
        )
        last_note, last_lie = notes.get(part.key, ""), lie
    return found


def _sections_of(sizes: Sequence[Size], part: str) -> dict[int, Section]:
    """What each size has of a part, by the size's number; a size may have none of it."""
    return {
        number: section
        for number, size in enumerate(sizes)
        for section in size.plan.sections
        if section.key == part and section.steps
    }


def _closing(plan: Plan) -> tuple[str, ...]:
    return (to_finish(plan), *CAUTIONS)


def size_name(plan: Plan, unit: Unit) -> str:
    """A size named by the foot it is for."""
    return show_length(plan.request.foot.ball_circumference_cm, unit)
