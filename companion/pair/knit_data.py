"""A pair as the knit page takes it: every round in words, without the operations behind them. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from ..drawings.stitch_chart import chart_rows
from ..planning import Plan
from ..planning.construction.constructions import built
from ..planning.construction.heights import heights
from ..planning.construction.sections.base import Part
from ..planning.fabric.chart import EXCHANGE, swaps
from ..planning.fabric.place_in_repeat import first_of_the_repeat
from ..planning.fabric.second_sock import as_second_sock, main_yarn
from ..planning.fit.targets import Fit, fit_of
from ..planning.pattern.chart_text import ChartWords
from ..planning.pattern.needles import needle_notes
from ..planning.pattern.part_yarn_text import renamed, yarn_of
from ..planning.pattern.rounds_text import abbreviations, gist, round_lines
from ..planning.pattern.stepwise import parts_of, repeats_of
from ..planning.plan.document import Round
from ..planning.plan.rounds import zone_stitches
from ..planning.recalculation.check_places import check_places_after
from ..planning.request.plan_request import ROUNDS_PER_STITCH
from ..planning.units import Unit, in_one_unit
from .as_measured import rounds_measured
from .changing.second_sock import asks_for_second_sock
from .changing.taking_back import new_change
from .checking.checks import checks_kept
from .checking.counted_on import all_along
from .learned_gauges import learned_from
from .lengths import taken_from
from .logbook import SOCKS, Sock
from .state import PairState
from .yarn.forecast import weighed_words


def _instruction(item: Round, plan: Plan, chart: ChartWords, main: str, unit: Unit) -> dict[str, Any]:
    yarn = yarn_of(item, plan.request)
    worded = renamed(item, yarn, main) if yarn else item
    in_pattern = item.chart_row and plan.request.leg.stitch_pattern
    return {
        "side": item.side,
        "kind": item.kind,
        "before": item.before,
        "after": item.after,
        "note": in_one_unit(item.note, unit) if item.note else None,
        "gist": gist(worded),
        "lines": round_lines(worded),
        "yarn": yarn,
        "chart_row": item.chart_row,
        "chart_from": chart.begins(item) or first_of_the_repeat(plan, item),
        "colours": _colours(item),
        "yarns": sorted({key or main for key, loops in item.drawn.items() if loops}),
        "parts": [part._asdict() for part in parts_of(item)],
        "repeats": [part._asdict() for part in repeats_of(worded)] if in_pattern else [],
        "stitches": {work.zone: zone_stitches(item, work.zone) for work in item.work},
    }


def _colours(item: Round) -> dict[str, int] | None:
    """Stitches of each yarn in a stranded round."""
    drawn = {yarn: stitches for yarn, stitches in item.drawn.items() if yarn}
    return drawn if len(drawn) > 1 else None


def _sections(plan: Plan) -> list[dict[str, Any]]:
    needles, fit = needle_notes(plan), fit_of(plan.request)
    return [
        {
            "key": section.key,
            "title": section.title,
            "of": part.of,
            "flat": section.flat,
            "first": plan.span(section.key).start,
            "count": section.count,
            "needles": needles[section.key],
            "tape": taken_from(plan, number),
            **_own_rounds(fit, part),
        }
        for number, (section, part) in enumerate(built(plan))
    ]


def _own_rounds(fit: Fit, part: Part) -> dict[str, float]:
    """Rounds over 10 cm of a section whose fabric is not that of plain knitting."""
    own = fit.rounds_of(part.of)
    return {} if own == fit.fabric.rounds else {"rounds_per_10cm": 10 * own}


def _yarns(plan: Plan, sock: Sock) -> list[dict[str, Any]]:
    """The yarns with the metres that this sock takes of each."""
    metres = {need.key: need.metres_a_sock for need in plan.yarn}
    if sock == 2 and swaps(plan.request):
        metres = {key.translate(EXCHANGE): taken for key, taken in metres.items()}
    return [
        {**yarn.model_dump(include={"key", "name", "colour"}), "metres": metres.get(yarn.key, 0.0)}
        for yarn in plan.request.yarns
    ]


def _pattern(plan: Plan) -> dict[str, Any] | None:
    """The chart of a stitch pattern, its stitches and rounds for each plain one, and where it is counted on."""
    pattern, leg = plan.request.leg.stitch_pattern, fit_of(plan.request).leg
    if pattern is None:
        return None
    to_plain = leg.fabric.stitches / leg.plain.stitches, leg.fabric.rounds / leg.plain.rounds
    places = [{"from": done, **place._asdict()} for done, place in all_along(plan)]
    return {**chart_rows(pattern)._asdict(), "to_plain": to_plain, "counted_on": places}


def script(plan: Plan, sock: Sock = 1, unit: Unit = "cm") -> dict[str, Any]:
    """One sock round by round, its notes in one unit. Rounds that are alike share one instruction.

    `main` is the yarn of rounds that name none, `chart` has the colours of this sock, and `pattern` the chart of its
    stitch pattern in pieces.
    `heights` has how many rounds longer each one makes the sock: 0 for a cast-on or grafting.
    """
    if sock == 2:
        plan = as_second_sock(plan)
    rounds = plan.rounds()
    unique = list(dict.fromkeys(rounds))
    index = {item: number for number, item in enumerate(unique)}
    gauge, leg = plan.request.gauge, plan.request.leg
    main = main_yarn(plan.request, sock)
    charted = ChartWords(plan, main)
    rounds_per_10cm = gauge.rounds_per_10cm or gauge.stitches_per_10cm * ROUNDS_PER_STITCH
    return {
        "stitches_per_10cm": gauge.stitches_per_10cm,
        "rounds_per_10cm": rounds_per_10cm,
        "total": len(rounds),
        "needle_mm": plan.request.needles.size_mm,
        "sections": _sections(plan),
        "instructions": [_instruction(item, plan, charted, main, unit) for item in unique],
        "rounds": [index[item] for item in rounds],
        "meanings": abbreviations(plan),
        "chart": leg.charted.model_dump(include={"width", "rows"}) if leg.charted else None,
        "pattern": _pattern(plan),
        "yarns": _yarns(plan, sock),
        "main": main,
        "heights": list(heights(plan)),
    }


def _followed(pair: PairState, sock: Sock) -> dict[str, Any]:
    """The script that a sock follows, with the revision it is of and how that may be taken back.

    Its sections have the rounds over 10 cm that were measured on them, if any were.
    """
    followed, measured = pair.followed[sock], rounds_measured(pair, sock)
    changed = new_change(pair, sock)
    found = script(pair.plan_of(followed), sock, pair.unit)
    own = ({"rounds_per_10cm": measured[one["key"]]} if one["key"] in measured else {} for one in found["sections"])
    return found | {
        "revision": followed.number,
        "can_undo": followed is pair.undoable,
        "changed": asdict(changed) if changed else None,
        "sections": [one | more for one, more in zip(found["sections"], own, strict=True)],
    }


def _where_checks_pay(pair: PairState, sock: Sock) -> list[int]:
    """The rounds after which a gauge check of a sock pays that were not checked yet."""
    checked = max((one.round for one in checks_kept(pair.entries) if one.sock == sock), default=0)
    return [place.round for place in check_places_after(pair.plan(sock), checked)]


def knit_data(pair: PairState, mark: str, epoch: str, cursor: int, led: Mapping[str, Any]) -> dict[str, Any]:
    """Both socks of a pair: where they are, and the scripts they follow, one when they follow the same.

    `mark` tells the pair from others, so that what a copy of it has counted finds it. `epoch` and `cursor` say how far
    the store's logbook is known in it: "" and 0 where none keeps it yet. `led` is what is shown of its design.
    """
    plan = pair.plan_of(pair.followed[1])
    scripts = [_followed(pair, 1)]
    if pair.followed[2] is not pair.followed[1] or swaps(plan.request):
        scripts.append(_followed(pair, 2))
    return {
        "schema": 1,
        "title": pair.title,
        "mark": mark,
        "unit": pair.unit,
        "two_at_a_time": plan.request.needles.two_at_a_time,
        "asks_for_second_sock": asks_for_second_sock(pair.revisions),
        "epoch": epoch,
        "cursor": cursor,
        "clock": pair.clock,
        "socks": [
            {
                "sock": sock,
                "script": number,
                "round": min(pair.done[sock], scripts[number]["total"]),
                "ends": [end.as_json() for end in pair.ends[sock]],
            }
            for sock in SOCKS
            for number in [min(sock, len(scripts)) - 1]
        ],
        "scripts": scripts,
        "learned": learned_from(pair),
        "check_at": [_where_checks_pay(pair, sock) for sock in SOCKS],
        **weighed_words(pair),
        **led,
    }
