"""What the knit page is given says the same as the plan, round by round."""

from __future__ import annotations

import re
from itertools import product
from typing import Any

import pytest

from companion.pair.knit_data import script
from companion.pair.logbook import SOCKS, Sock
from companion.planning import Plan, make_plan, read_request
from companion.planning.pattern.rounds_text import round_lines
from companion.resources import SAMPLE_PROJECTS
from companion.strict_json import read_json
from tests.planning.requests import CONSTRUCTIONS, names

from ...conftest import Browser, entry
from ...reader import read_words


@pytest.fixture(scope="module", params=CONSTRUCTIONS, ids=names)
def plan(request: pytest.FixtureRequest) -> Plan:
    asked, faults = read_request(
        {
            "foot": {"ball_circumference_cm": 22.5, "length_cm": 24.5},
            "gauge": {"stitches_per_10cm": 30},
            "construction": request.param,
        }
    )
    assert asked, faults
    return make_plan(asked)


@pytest.fixture(scope="module")
def found(plan: Plan) -> dict[str, Any]:
    """What the page is given of the plan."""
    return script(plan)


def test_every_round_is_there_in_its_words(plan: Plan, found: dict[str, Any]) -> None:
    rounds = plan.rounds()
    assert found["total"] == len(found["rounds"]) == len(found["heights"]) == len(rounds)
    for number, item in zip(found["rounds"], rounds, strict=True):
        told = found["instructions"][number]
        assert told["lines"] == round_lines(item)
        assert (told["before"], told["after"], told["side"]) == (item.before, item.after, item.side)
    assert len(found["instructions"]) < found["total"]


def test_the_sections_cover_the_sock_without_a_gap(found: dict[str, Any]) -> None:
    place = 0
    for section in found["sections"]:
        assert section["first"] == place
        place += section["count"]
    assert place == found["total"]


def test_the_sock_grows_by_the_lengths_of_its_sections(plan: Plan, found: dict[str, Any]) -> None:
    """Short rows to a tip and back count for less than a round each: the tape shows how long the sock is."""
    a_round = 10 / found["rounds_per_10cm"]
    for section, part in zip(found["sections"], plan.sections, strict=True):
        heights = found["heights"][section["first"] : section["first"] + section["count"]]
        assert sum(heights) * a_round == pytest.approx(part.length_cm, abs=0.02)
        assert all(0 <= height <= 1 for height in heights)
    assert found["heights"][0] == found["heights"][-1] == 0


def test_double_stitches_are_explained_where_they_are_worked(found: dict[str, Any]) -> None:
    words = {word for told in found["instructions"] for _, line in told["lines"] for word in re.findall("[a-z]+", line)}
    for short in ("ds", "kds", "pds", "ssk"):
        assert (short in found["meanings"]) == (short in words)


def test_each_sock_has_the_metres_that_it_takes_of_each_yarn() -> None:
    """Where the second sock exchanges the yarns, it takes of each what the first one takes of the other."""
    request, faults = read_request(read_json((SAMPLE_PROJECTS / "sorrel.json").read_bytes()))
    assert request, faults
    plan = make_plan(request)
    one, two = ({yarn["key"]: yarn["metres"] for yarn in script(plan, sock)["yarns"]} for sock in SOCKS)
    assert one == {need.key: need.metres_a_sock for need in plan.yarn}
    assert one["A"] > one["B"] > 0
    assert two == {"A": one["B"], "B": one["A"]}


def colours_of(ops: list[dict[str, Any]], main: str) -> str:
    """The yarn of each stitch, in the order of working."""
    return "".join(
        colours_of(op["ops"], main) * op["times"] if "times" in op else (op.get("yarn") or main) * op.get("n", 1)
        for op in ops
    )


@pytest.mark.parametrize("sock", SOCKS)
@pytest.mark.parametrize(("direction", "width"), [*product(("cuff-down", "toe-up"), (4, 5, 6))])
def test_a_charted_round_begins_with_the_stitch_of_its_row_that_is_reported(
    sock: Sock, direction: str, width: int
) -> None:
    rows = [row[-width:] for row in ("AAABAB", "AAAAAA", "ABBAAB")]
    request, faults = read_request(
        {
            "foot": {"ball_circumference_cm": 22.5, "length_cm": 24.5},
            "gauge": {"stitches_per_10cm": 30},
            "construction": {"direction": direction},
            "leg": {"chart": {"width": width, "rows": rows, "swap": True}},
            "foot_pattern": "instep follows the leg",
            "yarns": [{"key": "A"}, {"key": "B"}],
        }
    )
    assert request, faults
    found = script(make_plan(request), sock)
    charted = [told for told in found["instructions"] if told["chart_row"] and told["chart_from"]]
    assert {"leg", "instep"} <= {zone for told in charted for zone in told["stitches"]}
    for told in charted:
        row = found["chart"]["rows"][told["chart_row"] - 1][::-1]
        words = dict(told["lines"]).get("Instep") or told["lines"][0][1]
        worked = colours_of(read_words(words if words != "knit" else f"k{told['after']}"), found["main"])
        first = told["chart_from"] - 1
        assert worked == ((row[first:] + row[:first]) * len(worked))[: len(worked)]


def test_plain_rounds_have_a_gist(browser: Browser, link: str) -> None:
    told = browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]["instructions"]
    plain = [one for one in told if one["gist"] == "knit"]
    assert plain
    assert all(one["before"] == one["after"] for one in plain)


def test_both_socks_share_a_script_and_have_their_own_places(browser: Browser, link: str) -> None:
    entries: list[Any] = [entry(1, round=30, kind="go"), entry(2, sock=2, round=9999 // 3, kind="go")]
    browser.post_json(f"/pair/{link}/log", {"entries": entries})
    found = browser.get(f"/pair/{link}/pair.json").get_json()
    total = found["scripts"][0]["total"]
    assert len(found["scripts"]) == 1
    places = [{name: sock[name] for name in ("sock", "script", "round")} for sock in found["socks"]]
    # A place beyond the sock, as from a longer plan taken back, is its end.
    assert places == [{"sock": 1, "script": 0, "round": 30}, {"sock": 2, "script": 0, "round": total}]
    assert [[end["clock"] for end in sock["ends"]] for sock in found["socks"]] == [[1], [2]]
    assert (found["cursor"], found["clock"]) == (2, 2)


def test_a_round_in_a_yarn_of_its_own_names_it_once_beside_its_words() -> None:
    """Read with that yarn for every loop, the words are the round's operations."""
    request, faults = read_request(
        {
            "foot": {"ball_circumference_cm": 22.5, "length_cm": 24.5},
            "gauge": {"stitches_per_10cm": 30},
            "yarns": [{"key": "A"}, {"key": "B"}],
            "construction": {"direction": "toe-up"},
            "parts": {"heel": "B", "toe": "B"},
        }
    )
    assert request, faults
    plan = make_plan(request)
    found = script(plan)
    told = [found["instructions"][number] for number in found["rounds"]]
    for item, instruction in zip(plan.rounds(), told, strict=True):
        alone = set(instruction["yarns"]) == {"B"} or not any(item.drawn.values())
        assert (instruction["yarn"] == "B") == ("B" in item.drawn and alone)
        words = " ".join(line for _, line in instruction["lines"])
        assert (" in B" in words) == ("B" in item.drawn and not alone)
    turn = next(each for each in found["sections"] if each["key"] == "heel-turn")
    assert re.fullmatch(r"k\d+, k\d+ in B, turn", told[turn["first"]]["lines"][0][1])
    assert told[turn["first"] + 1]["lines"][0][1].startswith("ds, p")
    assert told[1]["lines"][0][1].startswith("k1, m1r")


def test_a_round_of_a_stitch_pattern_in_stripes_names_its_yarn_once_beside_its_words() -> None:
    request, faults = read_request(
        {
            "foot": {"ball_circumference_cm": 22.5, "length_cm": 24.5},
            "gauge": {"stitches_per_10cm": 30},
            "yarns": [{"key": "A"}, {"key": "B"}],
            "leg": {"stitch_pattern": {"name": "lace rib"}, "chart": {"width": 1, "rows": [*"AAB"]}},
            "foot_pattern": "instep follows the leg",
        }
    )
    assert request, faults
    plan = make_plan(request)
    found = script(plan)
    told = [found["instructions"][number] for number in found["rounds"]]
    in_pattern = [(item, one) for item, one in zip(plan.rounds(), told, strict=True) if item.chart_row]
    assert {one["yarn"] for _, one in in_pattern} == {None, "B"}
    for item, one in in_pattern:
        assert (one["yarn"] == "B") == ("B" in item.drawn)
        assert "B" not in str([one["lines"], one["gist"], one["repeats"]])


def test_a_second_sock_in_exchanged_colours_has_the_other_yarn_in_its_heel() -> None:
    request, faults = read_request(
        {
            "foot": {"ball_circumference_cm": 22.5, "length_cm": 24.5},
            "gauge": {"stitches_per_10cm": 30},
            "yarns": [{"key": "A"}, {"key": "B"}, {"key": "C"}],
            "leg": {"chart": {"width": 1, "rows": [*"AAABBB"], "swap": True}},
            "parts": {"heel": "B", "toe": "C"},
        }
    )
    assert request, faults
    plan = make_plan(request)
    socks: list[Sock] = [1, 2]
    for sock, heel, other in zip(socks, "BA", "AB", strict=True):
        found = script(plan, sock)
        told = [found["instructions"][number] for number in found["rounds"]]
        at = {section["key"]: told[section["first"]] for section in found["sections"]}
        assert (found["main"], at["cuff"]["yarns"]) == (other, [other])
        assert (at["heel-flap"]["yarn"], at["heel-flap"]["yarns"]) == (heel, [heel])
        assert f"Cut yarn {other}: it is joined again after the heel." in at["heel-flap"]["note"]
        assert (at["toe"]["yarn"], f"Cut yarn {heel}." in at["toe"]["note"]) == ("C", False)
        assert f"Cut yarn {other}. Join yarn C here." in at["toe"]["note"]


def test_where_a_check_pays_is_known_until_it_was_made(browser: Browser, link: str) -> None:
    def check_at() -> list[list[int]]:
        found: list[list[int]] = browser.get(f"/pair/{link}/pair.json").get_json()["check_at"]
        return found

    [places, other] = check_at()
    assert places == other
    assert len(places) > 2
    counted = {"stitches": [{"count": 30, "over_cm": 10}]}
    browser.post_json(f"/pair/{link}/log", {"entries": [entry(1, round=places[1], kind="check", data=counted)]})
    assert check_at() == [places[2:], other]


def test_a_stitch_pattern_comes_as_the_squares_of_its_chart() -> None:
    """Each row is as wide as the repeat; a decrease of two stitches to one and its yarn over have a square each."""
    request, _ = read_request(
        {
            "foot": {"ball_circumference_cm": 22.5, "length_cm": 24.5},
            "gauge": {"stitches_per_10cm": 30},
            "leg": {"stitch_pattern": {"rows": ["2/2 RC, yo, k2tog", "k6"]}},
        }
    )
    assert request
    pattern = script(make_plan(request))["pattern"]
    squares = [[pattern["squares"][number] for number in row] for row in pattern["rows"]]
    assert [[wide for wide, _ in row] for row in squares] == [[4, 1, 1], [1] * 6]
    assert [len(ways) for _, ways in squares[0]] == [3, 1, 1]
    assert not any(ways for _, ways in squares[1])
