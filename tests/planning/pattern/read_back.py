"""Checks that a graded pattern, read by each of its sizes, gives every round of this size's own plan."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import cycle, islice
from typing import Any

from pydantic import TypeAdapter

from companion.planning import CannotKnitError, Plan, PlanRequest, make_plan, pattern_of
from companion.planning.pattern.pattern import Pattern, Size, size_name
from companion.planning.pattern.stitch_pattern_text import pattern_lines
from companion.planning.plan.document import Section
from companion.planning.request.size_range import foot_for
from tests.planning.pattern.kept_in_pattern import check_kept
from tests.planning.pattern.laid_out import described_rounds
from tests.planning.pattern.pattern_reader import ReadRound, Zone, pick, rounds_for

SECTION = TypeAdapter(Section)
BALLS = (17.0, 20.0, 22.5, 26.0)


def sized(design: PlanRequest, balls: Sequence[float] = BALLS) -> list[Size]:
    """The sizes of a design that can be knitted."""
    sizes = []
    for ball in balls:
        try:
            plan = make_plan(PlanRequest.model_validate({**dict(design), "foot": foot_for(ball)}))
        except CannotKnitError:
            continue
        sizes.append(Size(size_name(plan, "cm"), plan))
    return sizes


def flat(ops: Sequence[dict[str, Any]], main: str) -> Iterator[tuple[str, str]]:
    """Every operation of the plan document by itself, with its yarn."""
    for op in ops:
        for _ in range(op.get("times", op.get("n", 1))):
            if "ops" in op:
                yield from flat(op["ops"], main)
            else:
                yield op["op"], op.get("yarn", main)


def document_rounds(plan: Plan, key: str) -> list[dict[str, Any]]:
    """Those of a section, if the plan has it; a round that is repeated is the same object each time."""
    documents = [SECTION.dump_python(each, mode="json") for each in plan.sections if each.key == key]
    steps = [step for document in documents for step in document["steps"]]
    return [item for step in steps for _ in range(step["times"]) for item in step["rounds"]]


def flat_rounds(plan: Plan, key: str) -> list[dict[str, Any]]:
    """The same with the work of each by its zones, every operation by itself with its yarn."""
    main = plan.request.yarns[0].key
    rounds = document_rounds(plan, key)
    for item in {id(each): each for each in rounds}.values():
        item["work"] = {part["zone"]: list(flat(part["ops"], main)) for part in item["work"]}
    return rounds


def check_colours(zone: Zone, yarns: list[str], row: str) -> None:
    """The yarns of a charted zone, by the stitch of the chart that it begins with, or taking turns."""
    from_the_right = row[::-1]
    if zone.stitch:
        assert yarns == [from_the_right[(zone.stitch - 1 + place) % len(row)] for place in range(len(yarns))]
    if zone.turns:
        turns = list(dict.fromkeys(from_the_right))
        assert set(yarns) <= set(turns)
        assert all(yarns[place] == yarns[place % len(turns)] for place in range(len(yarns)))


NO_LOOP = {"sl", "slwyif", "ds", "wrap", "turn", "rest", "draw"}


STRIPED = re.compile(r"Stripes: begin with row (\d+), one row a round\.")


def stripes_in(opening: str, size: int, sizes: int, plan: Plan) -> Iterator[str] | None:
    """The yarns of a section's rounds, where its opening says for this size with which of the stripes they begin."""
    said = STRIPED.search(pick(opening, size, sizes))
    if said is None:
        return None
    chart = plan.request.leg.chart
    assert chart
    return islice(cycle(chart.rows), int(said[1]) - 1, None)


def check_round(
    read: ReadRound, item: dict[str, Any], plan: Plan, unnamed: str, shown: Sequence[tuple[str, ...]]
) -> None:
    """The round read is that of the plan, laid flat; a yarn that neither it nor the chart names is the one given.

    `shown` are the rounds of the stitch pattern.
    """
    charted, pattern = plan.request.leg.charted, plan.request.leg.pattern
    assert read.noun == ("round" if item["side"] == "round" else "row")
    assert read.side in ("", item["side"])
    assert read.now in (None, item["after"])
    row = None
    if item["chart_row"]:
        assert pattern
        assert read.row
        assert (read.row - 1) % pattern.height + 1 == item["chart_row"]
        row = charted.rows[item["chart_row"] - 1] if charted else None
    else:
        assert read.row is None
    work = item["work"]
    if read.zones is None:
        assert {op for ops in work.values() for op, _ in ops} == {"k"}
        assert row is None or len(set(row)) == 1
        assert row or {yarn for ops in work.values() for _, yarn in ops} == {read.yarn or unnamed}
        return
    assert len(read.zones) == len(work)
    for (name, zone), (wanted_name, wanted) in zip(read.zones.items(), work.items(), strict=True):
        assert name in ("", wanted_name)
        if zone.kept is not None:
            check_kept(zone.kept, [op for op, _ in wanted], plan, shown[item["chart_row"] - 1])
            continue
        assert list(zone.ops) == [op for op, _ in wanted]
        if not row:
            drawn = [
                (yarn or unnamed, each)
                for yarn, (op, each) in zip(zone.yarns, wanted, strict=True)
                if op not in NO_LOOP
            ]
            assert all(told == each for told, each in drawn)
        if row:
            # Stitches that are put to rest take no yarn; those cast on over them take turns from their first.
            check_colours(zone, [yarn for op, yarn in wanted if op != "rest"], row)


def check_every_size(sizes: Sequence[Size]) -> Pattern:
    pattern = pattern_of(sizes, "cm")
    names = [size.name for size in sizes]
    shown = described_rounds(pattern_lines(pattern.stitch_pattern)) if pattern.stitch_pattern else ()
    for section in pattern.sections:
        lines = [(line.label, line.text) for line in section.lines]
        head = re.match(r"With yarn ([A-D])(?:\.| where no other is named\.)", section.opening)
        main = head[1] if head else sizes[0].plan.request.yarns[0].key
        for place, size in enumerate(sizes):
            stripes = stripes_in(section.opening, place, len(sizes), size.plan)
            wanted = flat_rounds(size.plan, section.key)
            read = rounds_for(lines, size.name, names, shown)
            assert len(read) == len(wanted)
            for one, other in zip(read, wanted, strict=True):
                check_round(one, other, size.plan, next(stripes) if stripes and one.noun == "round" else main, shown)
    keys = {section.key for section in pattern.sections}
    assert keys == {section.key for size in sizes for section in size.plan.sections if section.steps}
    return pattern
