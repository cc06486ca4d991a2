"""A heel that this program has never heard of, registered here and nowhere else, goes the whole way of a sock."""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape
from xml.etree import ElementTree as ET

import pytest

from companion.drawings.sock import sock_svg
from companion.pair.lengths import taken_from
from companion.planning import Check, Plan, pattern_of, read_plan, read_request, recalculate, written_pattern
from companion.planning.construction.constructions import HEELS, Heel, HeelParts, parts_of
from companion.planning.construction.design_sections import notes_by_section, rounds_until, section_ends
from companion.planning.construction.sections.base import Aim, Built, Knitted, Part, Progress
from companion.planning.construction.sections.heels.short_row_heel import heel_and_instep
from companion.planning.construction.shaping import short_row_middle, short_row_pass
from companion.planning.fit.targets import fit_of
from companion.planning.gauge.check import Spot
from companion.planning.gauge.estimate import gauges_of
from companion.planning.gauge.observations import assumed
from companion.planning.pattern.pattern import Size
from companion.planning.pattern.render import as_markdown_text, as_text
from companion.planning.pattern.rounds_text import round_words
from companion.planning.pattern.size_grid import grid_of, table_of
from companion.planning.pattern.tables import as_markdown
from companion.planning.plan.design import Design
from companion.planning.plan.document import Round
from companion.planning.plan.rounds import op, row
from companion.planning.recalculation.check_places import check_places
from companion.planning.recalculation.figures import PlanFigures
from companion.planning.recalculation.leg_length import leg_reach
from companion.planning.recalculation.try_on import Felt, after_try_on
from companion.planning.request.foot import Foot
from companion.planning.yarn.forecast import progress_of, yarns_left
from tests.conftest import Browser, entry
from tests.planning.asking import TWO, document_of, knit_plan, planned, request_data
from tests.planning.requests import DIRECTIONS, TOES
from tests.reader import read_zones

WEDGE = "garter wedge"


def garter_rows(heel: int, live: int) -> tuple[Round, ...]:
    """Garter rows over the heel, each one stitch shorter than the one before, and one back over all that wait."""
    narrower = heel - short_row_middle(heel)
    narrower -= 1 - narrower % 2
    knitted = [op("k", heel), op("slwyif") + op("k", heel - 1)]
    knitted += [op("slwyif") + op("k", heel - 2 - number) for number in range(narrower)]
    knitted.append(op("slwyif") + op("k", heel - narrower + narrower // 2 - 1))
    return tuple(
        row(("heel", ops + op("turn")), before=live, kind="short-row", side="WS" if number % 2 else "RS")
        for number, ops in enumerate(knitted)
    )


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """The rows and a round that closes their gaps; half of them lie along the sole."""
    heel, instep = heel_and_instep(before)
    rows = garter_rows(heel, before.live)
    first = replace(rows[0], note=f"The heel is a wedge of garter stitch over {heel} stitches.")
    closing = row(("heel", op("k", heel)), ("instep", op("k", instep)), before=before.live)
    whole = (first, *rows[1:], closing)
    rounds = knitted.rounds + whole[len(knitted.rounds) :]
    progress = replace(
        before.after(rounds, heel=heel, instep=instep, sole=heel),
        heel_pass_cm=short_row_pass(heel, instep, aim.fabric),
        foot_rounds=before.foot_rounds + height(aim, heel, instep),
    )
    return rounds, progress


def height(_aim: Aim, sole: int, _instep: int) -> int:
    return len(garter_rows(sole, sole)) // 2


PARTS = HeelParts((Part("heel-wedge", "Garter wedge", "heel", build, flat=True, charted=True),))


@pytest.fixture(autouse=True)
def registered(monkeypatch: pytest.MonkeyPatch) -> None:
    """The one entry."""
    heel = Heel(
        "garter wedge heel",
        "Thick and quick.",
        "Take more stitches.",
        cuff_down=PARTS,
        toe_up=PARTS,
        rounds_after_foot=height,
    )
    monkeypatch.setitem(HEELS, WEDGE, heel)


@pytest.fixture(params=DIRECTIONS)
def direction(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture
def plan(direction: str) -> Plan:
    return planned(construction={"direction": direction, "heel": WEDGE})


def place_in_the_heel(plan: Plan) -> int:
    return plan.span("heel-wedge").start + 5


def test_without_its_entry_nobody_can_ask_for_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(HEELS, WEDGE)
    request, faults = read_request(request_data(construction={"heel": WEDGE}))
    assert request is None
    assert [str(fault) for fault in faults] == [
        f"construction.heel: {WEDGE} given; "
        "allowed: 'flap', 'short-row', 'short-row with gusset', 'afterthought' or 'strong'"
    ]  # fmt: skip


@pytest.mark.parametrize("toe", TOES)
def test_it_is_planned_and_knitted_with_every_toe(direction: str, toe: str) -> None:
    plan = planned(construction={"direction": direction, "heel": WEDGE, "toe": toe})
    assert [section.key for section in plan.sections] == [part.key for part in parts_of(plan.request.construction)]
    assert knit_plan(plan).section("heel-wedge")
    assert plan.sizes.foot_length_cm == pytest.approx(fit_of(plan.request).length_target, abs=0.3)
    assert [need.grams_a_pair > 20 for need in plan.yarn] == [True]
    assert read_plan(plan.model_dump(mode="json")) == (plan, [])


def test_it_is_written_in_words_that_read_back(plan: Plan) -> None:
    for item in plan.rounds():
        work = document_of(item)["work"]
        zones = [part["zone"] for part in work] if len(work) > 1 else [""]
        assert read_zones(round_words(item)) == [
            {"zone": zone, "ops": part["ops"]} for zone, part in zip(zones, work, strict=True)
        ]
    text = written_pattern(plan, "cm")
    assert "\nGarter wedge (" in text
    assert "a wedge of garter stitch over" in text


def test_it_is_graded_and_has_its_place_in_a_size_grid(plan: Plan) -> None:
    request = plan.request
    feet = [Foot(ball_circumference_cm=round_, length_cm=25) for round_ in (21, 25)]
    grid = grid_of(request, feet, [request.gauge])
    sizes = [Size(name, row[0].plan) for name, row in zip("SL", grid.cells, strict=True) if row[0].plan]
    pattern = pattern_of(sizes, "cm", {"heel-wedge": "Mind the edge."})
    for text in (as_text(pattern), as_markdown_text(pattern)):
        assert "Garter wedge" in text
        assert re.search(r"a wedge of garter stitch over \d+ \(\d+\) stitches", text)
        assert "Mind the edge." in text
    assert "too few" not in as_markdown(table_of(grid, "cm"))


def test_it_is_drawn_with_every_part_named(plan: Plan) -> None:
    drawing = ET.fromstring(str(sock_svg(plan, "cm")))
    words = {"".join(item.itertext()) for item in drawing.iter() if item.tag.endswith("text")}
    assert {"cuff", "leg", "heel", "foot", "toe", "heel pass"} <= words


def test_it_gets_a_yarn_of_its_own_like_any_heel(direction: str) -> None:
    """Its rows; the round that closes it goes over the instep, too."""
    plan = planned(construction={"direction": direction, "heel": WEDGE}, yarns=TWO, parts={"heel": "B"})
    *rows, closing = (plan.rounds()[number] for number in plan.span("heel-wedge"))
    assert all({yarn for yarn, loops in item.drawn.items() if loops} == {"B"} for item in rows)
    assert set(closing.drawn) == {None}
    assert str(rows[0].note).endswith("Yarn A waits where the round begins. Join yarn B here.")
    assert str(closing.note).endswith("Cut yarn B, and go on with yarn A.")
    knit_plan(plan)


def test_a_pattern_goes_on_past_it(direction: str) -> None:
    chart = {"width": 4, "rows": ["AABB", "ABBA"]}
    plan = planned(
        construction={"direction": direction, "heel": WEDGE},
        leg={"chart": chart},
        foot_pattern="instep follows the leg",
        yarns=TWO,
    )
    rounds = [plan.rounds()[number] for number in plan.span("heel-wedge")]
    assert [item.chart_row is not None for item in rounds] == [False] * (len(rounds) - 1) + [True]
    assert str(rounds[0].note).endswith("Yarn B waits where the round begins.")
    assert "instep-fabric" in sock_svg(plan, "cm")
    knit_plan(plan)


def test_its_sock_is_worked_out_again_from_every_part_and_from_amid_the_heel(plan: Plan) -> None:
    for done in (*(span.start + 1 for _, span in plan.spans()), place_in_the_heel(plan)):
        counted = (Spot(count=29.5, over_cm=10),) * 6
        found = recalculate(plan, done, [Check(stitches=counted, round=done)])
        assert found.options
        for option in found.options:
            assert option.plan.rounds()[: option.done] == plan.rounds()[: option.done]
            knit_plan(option.plan)


def test_what_the_plan_says_of_it(plan: Plan) -> None:
    told = {figure.what: figure.sum() for figure in PlanFigures(plan, plan.sizes).figures}
    assert "rows" in told["Garter wedge"]
    assert "both of its slopes" in told["Way round the heel"]
    felt = after_try_on(plan, 5, Felt(where="heel", feels="tight"), gauges_of((assumed(plan.request),), 2.5))
    assert felt.said.startswith("This heel has no depth of its own to change")


def test_places_for_checks_and_tapes_lie_beside_it(plan: Plan, direction: str) -> None:
    assert {place.section for place in check_places(plan)} == {"leg", "foot"}
    ends = {section.key: taken_from(plan, number) for number, section in enumerate(plan.sections)}
    assert ends["heel-wedge"] == ()
    beyond = "leg" if direction == "toe-up" else "foot"
    assert ends[beyond] == (("section",) if direction == "toe-up" else ("section", "back of heel"))


def test_a_leader_speaks_of_it_as_the_heel(plan: Plan) -> None:
    assert notes_by_section(Design(notes={"heel": "Slowly"}), plan) == {"heel-wedge": "Slowly"}
    assert rounds_until(section_ends(plan), "heel") == plan.span("heel-wedge").stop
    assert rounds_until(section_ends(plan), "gusset") == plan.span("heel-wedge").stop


def test_its_yarn_is_weighed_and_its_leg_fitted_to_it() -> None:
    plan = planned(construction={"direction": "toe-up", "heel": WEDGE})
    done = plan.span("leg").start + 10
    progress = progress_of((plan, plan), (done, 0), 1)
    yarns = yarns_left(progress, {"A": [(100.0, (0, 0)), (75.0, (done, 0))]})
    assert yarns[0].use.weighed
    reach = leg_reach(progress, yarns)
    assert reach
    assert reach.likely
    assert reach.likely.rounds > 10


def test_its_pair_is_made_with_the_form_and_served_on_every_page(browser: Browser, direction: str) -> None:
    assert "Garter wedge heel" in browser.get("/plan").text
    link = browser.make_pair(direction=direction, heel=WEDGE)
    assert f"{direction}, garter wedge heel, wedge toe" in unescape(browser.get(f"/pair/{link}").text)
    script = browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]
    assert [section["of"] for section in script["sections"] if section["key"] == "heel-wedge"] == ["heel"]
    place = next(section["first"] for section in script["sections"] if section["key"] == "heel-wedge") + 5
    weighed = {"yarn": "A", "grams": 80}
    entries = [entry(1, kind="go", round=place), entry(2, kind="weighing", round=place, data=weighed)]
    assert len(browser.post_json(f"/pair/{link}/log", {"entries": entries}).get_json()["kept"]) == 2
    pages = ("", "/knit", "/pattern", "/pattern.md", "/check", "/yarn", "/fit", "/second", "/logbook", "/next")
    for page in pages:
        assert browser.get(f"/pair/{link}{page}").status_code == 200, page
    counts = {"unit": "cm", "stitches_1": "27", "stitches_over_1": "10", "sock": "1", "round": str(place)}
    answer = browser.post(f"/pair/{link}/check", counts)
    assert answer.status_code == 303, answer.text
    assert browser.get(answer.headers["Location"]).status_code == 200
