"""A pair as the knit page takes it: every round in words, without the operations behind them."""

from __future__ import annotations

from typing import Any

from ..lengths import taken_from
from ..logbook import SOCKS, Sock
from ..planning.chart import EXCHANGE, swaps
from ..planning.chart_words import ChartWords
from ..planning.document import Plan, Round
from ..planning.heights import heights
from ..planning.needles import needle_notes
from ..planning.request import ROUNDS_PER_STITCH
from ..planning.second_sock import as_second_sock, main_yarn
from ..planning.stepwise import parts_of
from ..planning.words import abbreviations, gist, round_lines
from ..planning.work import zone_stitches
from .leading import leaders_words
from .learned import learned_from
from .open_pair import OpenPair
from .second import changed_while_knitted
from .yarn_of_pair import weighed_words


def _instruction(item: Round, chart: ChartWords) -> dict[str, Any]:
    return {
        "side": item.side,
        "kind": item.kind,
        "before": item.before,
        "after": item.after,
        "note": item.note,
        "gist": gist(item),
        "lines": round_lines(item),
        "chart_row": item.chart_row,
        "chart_from": chart.begins(item),
        "colours": _colours(item),
        "parts": [part._asdict() for part in parts_of(item)],
        "stitches": {work.zone: zone_stitches(item, work.zone) for work in item.work},
    }


def _colours(item: Round) -> dict[str, int] | None:
    """Stitches of each yarn in a stranded round."""
    drawn = {yarn: stitches for yarn, stitches in item.drawn.items() if yarn}
    return drawn if len(drawn) > 1 else None


def _sections(plan: Plan) -> list[dict[str, Any]]:
    needles = needle_notes(plan)
    return [
        {
            "key": section.key,
            "title": section.title,
            "flat": section.flat,
            "first": span.start,
            "count": len(span),
            "needles": needles[section.key],
            "tape": taken_from(plan, number),
        }
        for number, (section, span) in enumerate(plan.spans())
    ]


def _yarns(plan: Plan, sock: Sock) -> list[dict[str, Any]]:
    """The yarns with the metres that this sock takes of each."""
    metres = {need.key: need.metres_a_sock for need in plan.yarn}
    if sock == 2 and swaps(plan.request):
        metres = {key.translate(EXCHANGE): taken for key, taken in metres.items()}
    return [
        {**yarn.model_dump(include={"key", "name", "colour"}), "metres": metres.get(yarn.key, 0.0)}
        for yarn in plan.request.yarns
    ]


def script(plan: Plan, revision: int, sock: Sock = 1, *, can_undo: bool) -> dict[str, Any]:
    """One sock round by round. Rounds that are alike share one instruction.

    `main` is the yarn of rounds that name none, and `chart` has the colours of this sock.
    `heights` has how many rounds longer each one makes the sock: 0 for a cast-on or grafting.
    """
    if sock == 2:
        plan = as_second_sock(plan)
    rounds = plan.rounds()
    unique = list(dict.fromkeys(rounds))
    index = {item: number for number, item in enumerate(unique)}
    gauge, chart = plan.request.gauge, plan.request.leg.chart
    main = main_yarn(plan.request, sock)
    charted = ChartWords(plan, main)
    rounds_per_10cm = gauge.rounds_per_10cm or gauge.stitches_per_10cm * ROUNDS_PER_STITCH
    return {
        "revision": revision,
        "stitches_per_10cm": gauge.stitches_per_10cm,
        "rounds_per_10cm": rounds_per_10cm,
        "total": len(rounds),
        "can_undo": can_undo,
        "needle_mm": plan.request.needles.size_mm,
        "sections": _sections(plan),
        "instructions": [_instruction(item, charted) for item in unique],
        "rounds": [index[item] for item in rounds],
        "meanings": abbreviations(plan),
        "chart": chart.model_dump(include={"width", "rows"}) if chart else None,
        "yarns": _yarns(plan, sock),
        "main": main,
        "heights": list(heights(plan)),
    }


def knit_data(pair: OpenPair) -> dict[str, Any]:
    """Both socks of a pair: where they are, and the scripts they follow, one when they follow the same."""
    first, second = (pair.followed[sock] for sock in SOCKS)
    undoable = pair.undoable
    plan = pair.plan_of(first)
    scripts = [script(plan, first.number, 1, can_undo=first is undoable)]
    if second is not first or swaps(plan.request):
        scripts.append(script(pair.plan_of(second), second.number, 2, can_undo=second is undoable))
    return {
        "schema": 1,
        "title": pair.pair.title,
        "unit": pair.pair.unit,
        "two_at_a_time": plan.request.needles.two_at_a_time,
        "sock_one_changed": changed_while_knitted(pair.revisions),
        "cursor": pair.cursor,
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
        **weighed_words(pair),
        **leaders_words(pair),
    }
