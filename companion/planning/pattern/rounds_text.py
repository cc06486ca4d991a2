"""Rounds in the words of a written pattern. The words of a round read back to the very same operations."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from ..construction.constructions import built
from ..construction.cuff_elastic import elastic_advice
from ..construction.sizes import round_the_top
from ..fabric.chart import swaps
from ..fit.targets import fit_of
from ..gauge.observations import listed
from ..plan.document import Op, Plan, Repeat, Round, Section, ThreadNeed
from ..plan.rounds import LONGEST_PERIOD, map_unique, yarns_named
from ..request.plan_request import ROUNDS_PER_STITCH, Gauge, PlanRequest
from ..units import (
    CM_PER_INCH,
    Unit,
    both_needle_sizes,
    both_weights,
    both_yarn_lengths,
    in_one_unit,
    in_tenths,
    show_length,
)
from ..yarn.colour_repeat import stripes_itself
from .abbreviations import meanings_of
from .grading.brackets import not_said_before
from .needles import needle_notes
from .part_yarn_text import said_first, seen_from

_COUNTED_BEFORE = {
    "k": "k{n}",
    "p": "p{n}",
    "ktbl": "k{n}tbl",
    "ptbl": "p{n}tbl",
    "sl": "sl{n}",
    "slwyif": "sl{n} wyif",
}
_COUNTED_BEHIND = {
    "co": "cast on {n}",
    "bo": "bind off {n}",
    "sew": "sew down {n}",
    "join": "k{n} with the cast-on edge",
    "pu": "pick up and knit {n}",
    "pup": "pick up and purl {n}",
    "graft": "graft {n} pairs",
    "draw": "draw together {n}",
    "rest": "k{n} with waste yarn",
    "resume": "k{n} from waste yarn",
}


def op_words(item: Op | Repeat, *, again: bool = False) -> str:
    """One operation or repeat: "k12", "k2tog", "[k1, p1] x 16"; stitches cast on over waste yarn are knit `again`."""
    if isinstance(item, Repeat):
        return f"[{', '.join(op_words(each, again=again) for each in item.ops)}] x {item.times}"
    if again and item.op == "co":
        text = f"k{item.n} again"
    elif item.op in _COUNTED_BEFORE:
        text = _COUNTED_BEFORE[item.op].format(n=item.n)
    elif item.op in _COUNTED_BEHIND:
        text = _COUNTED_BEHIND[item.op].format(n=item.n)
    else:
        text = item.op if item.n == 1 else f"{item.op} x {item.n}"
    return f"{text} in {item.yarn}" if item.yarn else text


def ops_words(ops: Iterable[Op | Repeat]) -> str:
    """Operations joined with commas; a yarn that all of several take is named once, before them."""
    listed_ops = tuple(ops)
    over_waste_yarn = any(isinstance(item, Op) and item.op == "rest" for item in listed_ops)
    yarns = yarns_named(listed_ops)
    several = len(listed_ops) > 1 or isinstance(listed_ops[0], Repeat)
    if several and len(yarns) == 1 and None not in yarns:
        return f"all in {yarns.pop()}: {ops_words(_in_no_yarn(listed_ops))}"
    return ", ".join(op_words(item, again=over_waste_yarn) for item in listed_ops)


def _in_no_yarn(ops: Iterable[Op | Repeat]) -> tuple[Op | Repeat, ...]:
    """The same operations without their yarns."""
    return tuple(
        replace(item, ops=_in_no_yarn(item.ops)) if isinstance(item, Repeat) else replace(item, yarn=None)
        for item in ops
    )


def round_lines(item: Round) -> list[tuple[str, str]]:
    """The words of a round, one (zone, words) pair a zone; the zone is left out where there is only one."""
    if len(item.work) == 1:
        return [("", ops_words(item.work[0].ops))]
    return [(work.zone.capitalize(), ops_words(work.ops)) for work in item.work]


def round_words(item: Round) -> str:
    """The words of a round on one line: "Sole: k1, ssk, k22, k2tog, k1; Instep: k32"."""
    return "; ".join(f"{zone}: {words}" if zone else words for zone, words in round_lines(item))


def gist(item: Round) -> str | None:
    """What a round of knit stitches in one yarn comes to, "knit" or "knit in B"; None for any other round.

    The knitter then needs no count.
    """
    if item.kind != "plain" or item.side != "round":
        return None
    worked = {(each.op, each.yarn) if isinstance(each, Op) else ("repeat", None) for each in item.ops}
    name, yarn = worked.pop()
    if worked or name != "k":
        return None
    return f"knit in {yarn}" if yarn else "knit"


CHART_ROW, PATTERN_ROUND = "chart row", "pattern round"


def row_name(request: PlanRequest) -> str:
    """What a row of the leg's pattern is called."""
    return CHART_ROW if request.leg.stitch_pattern is None else PATTERN_ROUND


@dataclass(frozen=True)
class PatternLine:
    """One line of a written pattern: which rounds, what is worked, and a remark before it."""

    label: str
    text: str
    note: str | None = None


def _noun(item: Round) -> str:
    return "round" if item.side == "round" else "row"


def _label(item: Round, first: int, last: int) -> str:
    noun = _noun(item).capitalize()
    return f"{noun} {first}" if first == last else f"{noun}s {first}-{last}"


def _sided(run: Sequence[Round], start: int, called: str) -> str:
    """The label of rounds that are worked alike and come after `start` others, with their rows of the pattern."""
    first = run[0]
    label = _label(first, start + 1, start + len(run))
    if first.chart_row:
        return f"{label} ({_chart_rows([item.chart_row or 0 for item in run], called)})"
    return label if first.side == "round" else f"{label} ({first.side})"


def _chart_rows(rows: Sequence[int], called: str) -> str:
    """The rows of a chart that rounds have: "chart row 3", "chart rows 4 and 1-2" where the chart begins again.

    Each is named once, however often the rounds go through the chart.
    """
    rows = [*dict.fromkeys(rows)]
    starts = [number for number, row in enumerate(rows) if not number or row != rows[number - 1] + 1]
    runs = [rows[start:end] for start, end in pairwise([*starts, len(rows)])]
    named = [f"{run[0]}" if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs]
    return f"{called}{'s' * (len(rows) > 1)} {listed(named)}"


def _same_work(one: Round, other: Round) -> bool:
    return (one.work, one.side) == (other.work, other.side)


def _run(rounds: Sequence[Round], start: int, period: int) -> int:
    """How often the group of `period` rounds at `start` comes in a row.

    Once where one of them but the first has a note, which would be read again at each repeat.
    """
    times = 1
    if any(item.note for item in rounds[start + 1 : start + period]):
        return times
    while True:
        ahead = start + times * period
        group = rounds[ahead : ahead + period]
        if len(group) < period or not all(
            _same_work(rounds[start + number], other) and other.note is None for number, other in enumerate(group)
        ):
            return times
        times += 1


def _count(item: Round) -> str:
    """The stitches after a round that changes them; a cast-on says them, and in rows the waiting ones would confuse."""
    changed = item.before not in (0, item.after) and item.after and item.side == "round"
    return f" ({item.after} stitches)" if changed else ""


def section_lines(section: Section, called: str = CHART_ROW) -> list[PatternLine]:
    """A section as a knitter would write it: what repeats is said once, plain rounds on one line.

    `called` is what a row of the leg's pattern is called.
    """
    rounds = section.rounds()
    rows = {item.chart_row for item in rounds if item.chart_row}
    # Checks on the sole begin again after twice the rows of an odd chart, a pattern in stripes after those of both.
    both = {len(step.rounds) for step in section.steps} if called == PATTERN_ROUND else ()
    periods = sorted({2, LONGEST_PERIOD, *rows, 2 * max(rows, default=1), *both})
    lines = []
    start = 0
    while start < len(rounds):
        alike = _run(rounds, start, 1)
        times = {each: _run(rounds, start, each) for each in periods if each > 1}
        period = max(times, key=lambda each: each * times[each] * (times[each] > 1))
        if times[period] > 1 and period * times[period] > alike:
            passage = _repeated(rounds[start : start + period], start, times[period], called)
            length = period * times[period]
        else:
            passage = [_alike(rounds[start : start + alike], start, called)]
            length = alike
        lines += passage
        start += length
    return lines


def _alike(run: Sequence[Round], start: int, called: str) -> PatternLine:
    """A round that is worked one or more times in a row."""
    item = run[0]
    many = f" ({len(run)} {_noun(item)}s)" if len(run) > 1 else ""
    return PatternLine(_sided(run, start, called), f"{gist(item) or round_words(item)}{many}{_count(item)}", item.note)


def _repeated(group: Sequence[Round], start: int, times: int, called: str) -> list[PatternLine]:
    """Rounds that are worked several times together: those of a shaping, or the rows of a chart."""
    first = group[0]
    these = "two" if len(group) == 2 else len(group)
    label = _label(first, start + 1, start + len(group) * times)
    written = [PatternLine(label, f"work these {these} {_noun(first)}s {times} times:", first.note)]
    at = 0
    while at < len(group):
        run = group[at : at + _run(group, at, 1)]
        written.append(replace(_alike(run, start + at, called), note=None))
        at += len(run)
    return written


def _paragraph(lines: Iterable[PatternLine], unit: Unit) -> list[str]:
    text = []
    for line in lines:
        text += [in_one_unit(line.note, unit)] if line.note else []
        text.append(f"{line.label}: {line.text}")
    return text


def gauge_words(gauge: Gauge, unit: Unit) -> str:
    """Stitches and rounds over 10 cm or 4 in."""
    rounds = gauge.rounds_per_10cm or gauge.stitches_per_10cm * ROUNDS_PER_STITCH
    guessed = "" if gauge.rounds_per_10cm else "; the rounds are estimated from the stitches"
    return f"{_over(gauge.stitches_per_10cm, rounds, unit)}, plain knitting{guessed}"


def gauges_words(request: PlanRequest, unit: Unit) -> str:
    """The same for a sock, and what its stitch pattern has."""
    plain, pattern, own = gauge_words(request.gauge, unit), request.leg.stitch_pattern, fit_of(request).leg.fabric
    if pattern is None:
        return plain
    estimated = "" if pattern.is_counted else ", estimated"
    return f"{plain}; {_over(10 * own.stitches, 10 * own.rounds, unit)}, in pattern{estimated}"


def _over(stitches: float, rounds: float, unit: Unit) -> str:
    """A gauge over 10 cm, over the length that is usual in a unit."""
    over, factor = ("4 in", 4 * CM_PER_INCH / 10) if unit == "in" else ("10 cm", 1.0)
    return f"{in_tenths(stitches * factor)} stitches and {in_tenths(rounds * factor)} rounds over {over}"


def _round_the_leg(plan: Plan, unit: Unit) -> str:
    above_the_heel, top = (show_length(each, unit) for each in (plan.sizes.leg_cm, round_the_top(plan)))
    if top == above_the_heel:
        return f"{top} round the leg"
    return f"{top} round the top of the leg and {above_the_heel} above the heel"


def _thread(need: ThreadNeed) -> str:
    grams = f", {both_weights(need.grams_a_pair)} for the pair with a tenth in hand" if need.grams_a_pair else ""
    return f"{both_yarn_lengths(need.metres_a_sock)} a sock{grams}"


def _heading(plan: Plan, unit: Unit) -> list[str]:
    request, sizes = plan.request, plan.sizes
    text = [
        plan.title,
        "",
        f"Finished size: {show_length(sizes.foot_circumference_cm, unit)} round the foot, "
        f"{show_length(sizes.foot_length_cm, unit)} from heel to toe, {_round_the_leg(plan, unit)}.",
        f"Gauge: {gauges_words(request, unit)}.",
        f"Needles: {both_needle_sizes(request.needles.size_mm)}, {request.needles.arrangement}.",
    ]
    for yarn, need in zip(request.yarns, plan.yarn, strict=True):
        text.append(
            f"Yarn {yarn.key}: {yarn.name}, {both_yarn_lengths(need.metres_a_sock)} a sock, "
            f"{both_weights(need.grams_a_pair, 0)} for the pair with a tenth in hand"
            f"{'' if need.enough else f'; only {both_weights(yarn.grams)} are at hand'}."
        )
    if plan.reinforcing_thread:
        text.append(f"Reinforcing thread: {_thread(plan.reinforcing_thread)}.")
    if len(request.yarns) > 1:
        names = "neither round nor part names a yarn" if request.parts.given() else "no yarn is named"
        text.append(f"Where {names} it is {request.yarns[0].key}.")
    text += [f"{verdict.what}: {verdict.verdict}. {verdict.why}" for verdict in plan.fit]
    text += [f"Note: {sentence}" for sentence in (*plan.warnings, *elastic_advice(plan))]
    return [in_one_unit(line, unit) for line in text]


def abbreviations(plan: Plan) -> dict[str, str]:
    """The abbreviations that a plan uses, and what they mean."""
    rounds = plan.rounds()
    return meanings_of(map_unique(rounds, round_words), {item.side for item in rounds})


def to_finish(plan: Plan) -> str:
    """What is to be done when this sock is knitted, the first of them where they are alike."""
    request = plan.request
    begin = "Wind off the yarn to the colour that this sock began with, and knit" if stripes_itself(request) else "Knit"
    other = "the second sock in the same way"
    if request.other_foot.given():
        other = "the other sock by its own numbers, for the other foot"
    elif request.construction.for_one_foot:
        foot = request.construction.for_the_other_foot().toe
        other = f"the other sock in the same way, but shape its toe for the {foot}: where only one side is shaped, "
        other += "exchange the beginning of sole and instep with the end"
    exchanged = ", with yarns A and B exchanged throughout" if swaps(request) else ""
    return f"{begin} {other}{exchanged}. Weave in the ends, wash, and dry flat."


def written_pattern(plan: Plan, unit: Unit) -> str:
    """The whole sock as plain text, lengths in the given unit."""
    text = _heading(plan, unit)
    on_needles, last = needle_notes(plan), ""
    for section, part in built(plan):
        if section.steps:
            own = part.own_yarn(plan.request)
            text += ["", f"{section.title} ({show_length(section.length_cm, unit)})"]
            text += filter(None, [said_first(section, own), not_said_before(on_needles[section.key], last)])
            worded = seen_from(section, own, plan.request)
            text += _paragraph(section_lines(worded, row_name(plan.request)), unit)
            last = on_needles[section.key]
    text += ["", to_finish(plan)]
    meanings = [f"{short}: {long}" for short, long in abbreviations(plan).items()]
    return "\n".join([*text, "", "Abbreviations", *meanings, ""])
