"""Rounds in the words of a written pattern. The words of a round read back to the very same operations."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from .chart import swaps
from .document import Op, Plan, Repeat, Round, Section
from .needles import needle_notes
from .request import Gauge
from .sizes import round_the_top
from .units import CM_PER_INCH, Unit, show_length
from .work import LONGEST_PERIOD, of_each

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
    "pu": "pick up and knit {n}",
    "pup": "pick up and purl {n}",
    "graft": "graft {n}",
    "rest": "rest {n}",
    "resume": "resume {n}",
}

ABBREVIATIONS = {
    "k": "knit",
    "p": "purl",
    "tbl": "through the back loop",
    "sl": "slip purlwise with the yarn in back",
    "wyif": "with the yarn in front",
    "k2tog": "knit two together: one less, leaning to the right",
    "ssk": "slip two knitwise one by one, knit them together through the back loops: one less, leaning to the left",
    "p2tog": "purl two together: one less",
    "m1l": "lift the bar before the next stitch from front to back and knit it through the back loop: one more",
    "m1r": "lift the bar before the next stitch from back to front and knit it through the front loop: one more",
    "ds": "double stitch: slip the first stitch purlwise with the yarn in front, then pull the yarn up over the needle "
    "to the back until both legs of the stitch lie on top; it counts as one",
    "kds": "knit both legs of a double stitch together",
    "pds": "purl both legs of a double stitch together",
    "rest": "leave on waste yarn or a holder until the stitches are taken up again",
    "resume": "put stitches that rest back on a needle, and knit them",
    "RS": "right side, the outside of the sock",
    "WS": "wrong side, the inside",
}
"""What the abbreviations in a plan mean; they are the ones in general use in the trade."""


def op_words(item: Op | Repeat) -> str:
    """One operation or repeat: "k12", "k2tog", "[k1, p1] x 16"."""
    if isinstance(item, Repeat):
        return f"[{ops_words(item.ops)}] x {item.times}"
    if item.op in _COUNTED_BEFORE:
        text = _COUNTED_BEFORE[item.op].format(n=item.n)
    elif item.op in _COUNTED_BEHIND:
        text = _COUNTED_BEHIND[item.op].format(n=item.n)
    else:
        text = item.op if item.n == 1 else f"{item.op} x {item.n}"
    return f"{text} in {item.yarn}" if item.yarn else text


def ops_words(ops: Iterable[Op | Repeat]) -> str:
    """Operations joined with commas."""
    return ", ".join(op_words(item) for item in ops)


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


def _sided(run: Sequence[Round], start: int) -> str:
    """The label of rounds that are worked alike and come after `start` others."""
    first, last = run[0], run[-1]
    label = _label(first, start + 1, start + len(run))
    if first.chart_row and len(run) == 1:
        return f"{label} (chart row {first.chart_row})"
    if first.chart_row and last.chart_row == first.chart_row + len(run) - 1:
        return f"{label} (chart rows {first.chart_row}-{last.chart_row})"
    return label if first.side == "round" else f"{label} ({first.side})"


def _same_work(one: Round, other: Round) -> bool:
    return (one.work, one.side) == (other.work, other.side)


def _run(rounds: Sequence[Round], start: int, period: int) -> int:
    """How often the group of `period` rounds at `start` comes in a row."""
    times = 1
    while True:
        ahead = start + times * period
        group = rounds[ahead : ahead + period]
        if len(group) < period or not all(
            _same_work(rounds[start + number], other) and other.note is None for number, other in enumerate(group)
        ):
            return times
        times += 1


def _count(item: Round) -> str:
    """The stitches after a round that changes them; in rows the waiting stitches would only confuse."""
    changed = item.after != item.before and item.after and item.side == "round"
    return f" ({item.after} stitches)" if changed else ""


def section_lines(section: Section) -> list[PatternLine]:
    """A section as a knitter would write it: what repeats is told once, plain rounds on one line."""
    rounds = section.rounds()
    periods = sorted({2, LONGEST_PERIOD, *(item.chart_row for item in rounds if item.chart_row)})
    lines = []
    start = 0
    while start < len(rounds):
        alike = _run(rounds, start, 1)
        times = {each: _run(rounds, start, each) for each in periods if each > 1}
        period = max(times, key=lambda each: each * times[each] * (times[each] > 1))
        if times[period] > 1 and period * times[period] > alike:
            told = _repeated(rounds[start : start + period], start, times[period])
            length = period * times[period]
        else:
            told = [_alike(rounds[start : start + alike], start)]
            length = alike
        lines += told
        start += length
    return lines


def _alike(run: Sequence[Round], start: int) -> PatternLine:
    """A round that is worked one or more times in a row."""
    item = run[0]
    many = f" ({len(run)} {_noun(item)}s)" if len(run) > 1 else ""
    return PatternLine(_sided(run, start), f"{gist(item) or round_words(item)}{many}{_count(item)}", item.note)


def _repeated(group: Sequence[Round], start: int, times: int) -> list[PatternLine]:
    """Rounds that are worked several times together: those of a shaping, or the rows of a chart."""
    first = group[0]
    these = "two" if len(group) == 2 else len(group)
    label = _label(first, start + 1, start + len(group) * times)
    told = [PatternLine(label, f"work these {these} {_noun(first)}s {times} times:", first.note)]
    at = 0
    while at < len(group):
        run = group[at : at + _run(group, at, 1)]
        line = _alike(run, start + at)
        told.append(line if at else replace(line, note=None))
        at += len(run)
    return told


def _paragraph(lines: Iterable[PatternLine]) -> list[str]:
    text = []
    for line in lines:
        text += [line.note] if line.note else []
        text.append(f"{line.label}: {line.text}")
    return text


def gauge_words(gauge: Gauge, unit: Unit) -> str:
    """Stitches and rounds over 10 cm or 4 in."""
    over, factor = ("4 in", 4 * CM_PER_INCH / 10) if unit == "in" else ("10 cm", 1.0)
    stitches = f"{gauge.stitches_per_10cm * factor:.1f}".removesuffix(".0")
    rounds = gauge.rounds_per_10cm
    if rounds is None:
        return f"{stitches} stitches over {over}, plain knitting; the rounds are estimated from them"
    and_rounds = f"{rounds * factor:.1f}".removesuffix(".0")
    return f"{stitches} stitches and {and_rounds} rounds over {over}, plain knitting"


def _round_the_leg(plan: Plan, unit: Unit) -> str:
    above_the_heel, top = (show_length(each, unit) for each in (plan.sizes.leg_cm, round_the_top(plan)))
    if top == above_the_heel:
        return f"{top} round the leg"
    return f"{top} round the top of the leg and {above_the_heel} above the heel"


def _heading(plan: Plan, unit: Unit) -> list[str]:
    request, sizes = plan.request, plan.sizes
    text = [
        plan.title,
        "",
        f"Finished size: {show_length(sizes.foot_circumference_cm, unit)} round the foot, "
        f"{show_length(sizes.foot_length_cm, unit)} from heel to toe, {_round_the_leg(plan, unit)}.",
        f"Gauge: {gauge_words(request.gauge, unit)}.",
        f"Needles: {request.needles.size_mm:g} mm, {request.needles.arrangement}.",
    ]
    for yarn, need in zip(request.yarns, plan.yarn, strict=True):
        text.append(
            f"Yarn {yarn.key}: {yarn.name}, {need.metres_a_sock:.0f} m a sock, {need.grams_a_pair:.0f} g for the pair "
            f"with a tenth in hand{'' if need.enough else f'; only {yarn.grams:g} g are at hand'}."
        )
    if len(request.yarns) > 1:
        text.append(f"Where no yarn is named it is {request.yarns[0].key}.")
    text += [f"{verdict.what}: {verdict.verdict}. {verdict.why}" for verdict in plan.fit]
    return text + [f"Note: {sentence}" for sentence in plan.warnings]


def abbreviations(plan: Plan) -> dict[str, str]:
    """The abbreviations that a plan uses, and what they mean."""
    said = set(of_each(plan.rounds(), round_words))
    words = {word for words in said for word in re.findall(r"k2tog|p2tog|m1[lr]|[a-z]+", words)}
    return {short: long for short, long in ABBREVIATIONS.items() if short in words | {"RS", "WS"}}


def second_sock(plan: Plan) -> str:
    """What is to be knitted when the first sock is finished."""
    exchanged = ", with yarns A and B exchanged throughout" if swaps(plan.request) else ""
    return f"Knit the second sock in the same way{exchanged}."


def written_pattern(plan: Plan, unit: Unit) -> str:
    """The whole sock as plain text, lengths in the given unit."""
    text = _heading(plan, unit)
    on_needles = needle_notes(plan)
    for section in plan.sections:
        if section.steps:
            text += ["", f"{section.title} ({show_length(section.length_cm, unit)})", on_needles[section.key]]
            text += _paragraph(section_lines(section))
    text += ["", second_sock(plan)]
    meanings = [f"{short}: {long}" for short, long in abbreviations(plan).items()]
    return "\n".join([*text, "", "Abbreviations", *meanings, ""])
