"""Impossible and implausible requests are answered in one line each: which entry, what was given, what is allowed."""

from __future__ import annotations

import copy
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning import CannotKnitError, Fault, make_plan, read_request
from companion.planning.faults import LONGEST_SHOWN, MOST_FAULTS, shown
from tests.planning.asking import asked, request_data

GONE = object()


def with_entry(where: str, value: Any) -> dict[str, Any]:
    """A sound request with one entry changed, added, or GONE."""
    data = copy.deepcopy(request_data())
    *above, last = where.split(".")
    inside = data
    for key in above:
        inside = inside.setdefault(key, {})
    if value is GONE:
        del inside[last]
    else:
        inside[last] = value
    return data


def the_fault(data: object) -> Fault:
    """The one thing that is wrong; it is told in one line, and never in the words of a programming language."""
    request, faults = read_request(data)
    assert request is None
    assert len(faults) == 1, [str(fault) for fault in faults]
    line = str(faults[0])
    assert len(line.splitlines()) == 1
    for word in ("dictionary", "instance of", "tuple", "validation", "string", "None given"):
        assert word not in line
    return faults[0]


@pytest.mark.parametrize(
    ("where", "given_", "allowed"),
    [
        ("gauge.stitches_per_10cm", 3, "from 14 up"),
        ("gauge.stitches_per_10cm", 300, "up to 60"),
        ("gauge.stitches_per_10cm", -30, "from 14 up"),
        ("gauge.rounds_per_10cm", 15, "from 16 up"),
        ("gauge.rounds_per_10cm", 101, "up to 100"),
        ("foot.length_cm", 200, "up to 36"),
        ("foot.length_cm", 0, "from 8 up"),
        ("foot.ball_circumference_cm", 99.5, "up to 35"),
        ("foot.ankle_circumference_cm", 4, "from 9 up"),
        ("foot.heel_diagonal_cm", 51, "up to 50"),
        ("foot.leg_circumference_cm", 61, "up to 60"),
        ("ease.circumference_percent", 60, "up to 25"),
        ("ease.circumference_percent", -6, "from -5 up"),
        ("ease.length_cm", 5, "up to 4"),
        ("cuff.length_cm", 0.4, "from 0.5 up"),
        ("leg.length_cm", 61, "up to 60"),
        ("needles.size_mm", 0.5, "from 1 up"),
    ],
)
def test_an_impossible_number_is_named_with_its_limit(where: str, given_: float, allowed: str) -> None:
    fault = the_fault(with_entry(where, given_))
    assert (fault.where, fault.given) == (where, f"{given_}")
    assert f"allowed {allowed}" in fault.message
    assert str(fault) == f"{where}: {given_} given; {fault.message}"


@pytest.mark.parametrize("where", ["gauge.stitches_per_10cm", "foot.length_cm", "ease.length_cm", "needles.size_mm"])
@pytest.mark.parametrize("given_", [math.nan, math.inf, -math.inf, 10**400, "wide", "", "NaN", [25], {"cm": 25}])
def test_what_is_no_number_is_named(where: str, given_: Any) -> None:
    fault = the_fault(with_entry(where, given_))
    assert fault.where == where
    assert "a number is needed" in fault.message


@pytest.mark.parametrize(("rounds", "stitches"), [(60, 30), (20, 30), (29.9, 30)])
def test_rounds_that_do_not_belong_to_the_stitches_are_reported_together(rounds: float, stitches: float) -> None:
    fault = the_fault(with_entry("gauge", {"stitches_per_10cm": stitches, "rounds_per_10cm": rounds}))
    assert fault.where == "gauge"
    assert f"{rounds / stitches:.3g} times the stitches" in fault.message, "in figures that hold for either tape"
    assert "1 to 1.9 times" in fault.message
    assert "count both again" in fault.message


def test_rounds_that_are_just_as_many_as_is_allowed_belong_to_the_stitches() -> None:
    """12.7 stitches and 24.13 rounds over 5 cm are 1.9 times, in binary numbers a little more."""
    assert asked(gauge={"stitches_per_10cm": 25.4, "rounds_per_10cm": 48.26}).gauge.rounds_per_10cm == 48.26


@pytest.mark.parametrize(
    ("where", "given_"), [("colour", "red"), ("foot.width_cm", 9), ("gauge.swatch", True), ("ease.percent", 10)]
)
def test_an_unknown_entry_is_named(where: str, given_: Any) -> None:
    fault = the_fault(with_entry(where, given_))
    assert fault.where == where
    assert "check its spelling or leave it out" in fault.message


@pytest.mark.parametrize("where", ["foot", "gauge", "foot.length_cm", "foot.ball_circumference_cm"])
def test_a_missing_entry_is_named(where: str) -> None:
    fault = the_fault(with_entry(where, GONE))
    assert str(fault) == f"{where}: needed, but missing"


@pytest.mark.parametrize(
    ("where", "given_", "allowed"),
    [
        ("gauge.basis", "guess", ["ball band", "swatch", "measured"]),
        ("construction.heel", "none", ["flap"]),
        ("needles.arrangement", "sticks", ["double-pointed", "long circular"]),
        ("foot_pattern", "lace", ["plain", "instep follows the leg", "sole in checks"]),
        ("schema", 2, ["1"]),
        ("cuff.rib", "k2 z2", ["k2 p2"]),
        ("cuff.rib", "k9 p9", ["12"]),
    ],
)
def test_a_word_that_is_not_known_is_answered_with_those_that_are(where: str, given_: Any, allowed: list[str]) -> None:
    fault = the_fault(with_entry(where, given_))
    assert (fault.where, fault.given) == (where, str(given_))
    assert all(word in fault.message for word in allowed)


@pytest.mark.parametrize(
    ("where", "given_"),
    [
        ("foot", []),
        ("foot", "large"),
        ("foot", None),
        ("gauge", [30, 42]),
        ("ease", 10),
        ("yarns", {}),
        ("yarns", []),
        ("title", 5),
        ("title", "t" * 200),
        ("cuff.rib", 5),
        ("cuff.rib", "k1 p1 " * 20),
        ("leg.chart", []),
    ],
)
def test_an_entry_of_the_wrong_kind_is_named(where: str, given_: Any) -> None:
    assert the_fault(with_entry(where, given_)).where == where


@pytest.mark.parametrize("given_", [None, [], "socks", 5, True])
def test_what_is_no_request_at_all_is_refused_in_words(given_: Any) -> None:
    assert the_fault(given_).where == ""


@pytest.mark.parametrize(
    ("where", "yarn"), [("yarns.0.grams", {"grams": -1}), ("yarns.0.key", {"key": "Z"}), ("yarns.0", 5)]
)
def test_a_fault_in_a_yarn_is_reported_once(where: str, yarn: Any) -> None:
    assert the_fault(with_entry("yarns", [yarn])).where == where


@pytest.mark.parametrize("given_", ["swatch\nor so", "a\r\nb", "a\u2028b"])
def test_a_line_break_in_what_was_given_does_not_break_the_line(given_: str) -> None:
    assert the_fault(with_entry("gauge.basis", given_)).where == "gauge.basis"
    the_fault(with_entry(given_, 1))


def test_every_fault_is_reported_at_once() -> None:
    data = request_data(foot={"length_cm": 200}, gauge={"stitches_per_10cm": 3}, cuff={"rib": "k2"}, colour="red")
    _, faults = read_request(data)
    assert {fault.where for fault in faults} == {"foot.length_cm", "gauge.stitches_per_10cm", "cuff.rib", "colour"}


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inside: st.lists(inside, max_size=3) | st.dictionaries(st.text(max_size=8), inside, max_size=3),
    max_leaves=6,
)
SECTIONS = [
    "schema",
    "title",
    "foot",
    "gauge",
    "ease",
    "construction",
    "cuff",
    "leg",
    "foot_pattern",
    "yarns",
    "needles",
]


@given(st.sampled_from(SECTIONS), JSON)
def test_any_json_in_a_section_is_read_or_refused(section: str, value: Any) -> None:
    request, faults = read_request(request_data() | {section: value})
    assert (request is None) == bool(faults)
    assert all(fault.where == section or fault.where.startswith(f"{section}.") for fault in faults)


def test_numbers_that_are_allowed_but_make_no_sock_are_refused_with_a_remedy() -> None:
    request = asked(
        foot={"ball_circumference_cm": 9, "length_cm": 10}, gauge={"stitches_per_10cm": 14} | {"rounds_per_10cm": 20}
    )
    with pytest.raises(CannotKnitError) as caught:
        make_plan(request)
    fault = caught.value.fault
    assert str(caught.value) == str(fault)
    assert (fault.where, fault.given) == ("gauge.stitches_per_10cm", "14")
    assert "needs 16 or more; take a finer yarn" in fault.message


def test_a_long_value_is_shown_shortened() -> None:
    assert shown("x" * LONGEST_SHOWN) == "x" * LONGEST_SHOWN
    assert shown("x" * 200) == "x" * (LONGEST_SHOWN - 1) + "…"
    assert len(the_fault(with_entry("gauge.basis", "x" * 10_000)).given) == LONGEST_SHOWN


@pytest.mark.parametrize(
    ("fault", "line"),
    [
        (Fault("foot.length_cm", "200", "allowed up to 36"), "foot.length_cm: 200 given; allowed up to 36"),
        (Fault("foot", "", "needed, but missing"), "foot: needed, but missing"),
        (Fault("", "", "count stitches"), "count stitches"),
        (Fault("", "x", "not a plan"), "x given; not a plan"),
    ],
)
def test_a_fault_is_one_line_with_what_is_known(fault: Fault, line: str) -> None:
    assert str(fault) == line


def test_only_so_many_faults_are_reported() -> None:
    """A request of a few kilobytes can have thousands; telling them all once took minutes."""
    request, faults = read_request({f"entry{number}": number for number in range(20_000)})
    assert request is None
    assert len(faults) == MOST_FAULTS


def test_a_list_that_is_too_long_is_reported_without_its_entries() -> None:
    fault = the_fault(with_entry("yarns", [{"grams": "many"}] * 1000))
    assert str(fault) == "yarns: at most 4 allowed"


def test_of_the_rows_of_a_chart_the_first_wrong_one_is_reported() -> None:
    fault = the_fault(with_entry("leg.chart", {"width": 1, "rows": [7] * 1000}))
    assert fault.where == "leg.chart.rows.0"
