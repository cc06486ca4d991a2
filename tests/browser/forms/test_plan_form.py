"""Filling in the plan form by touch: units, stitch counts on offer, and what is wrong."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, Route, expect

from companion.planning.fit.leg_heights import HEIGHTS, lengths_of

from ..conftest import field

pytestmark = pytest.mark.usefixtures("without_worker")


def in_inches(page: Page) -> None:
    page.get_by_text("in inches", exact=True).tap()


def in_cm(page: Page) -> None:
    page.get_by_text("in cm", exact=True).tap()


# 1 in is 2.54 cm exactly (international yard and pound agreement, 1959), and a dressmaker's tape is marked in
# eighths (common practice): 22.8 cm is 8.976 in, 25 cm is 9.843 in, 3.9 cm is 1.535 in. 30 stitches over 10 cm are
# 30.48 over the 10.16 cm of 4 in.
def test_switching_the_unit_back_and_forth_loses_nothing(form: Page) -> None:
    form.get_by_text("Rib, leg and cuff").tap()
    typed = {"ball_circumference": "22,8", "foot_length": "25", "cuff_length": "3.9", "stitches": "30"}
    switched = {"ball_circumference": "9", "foot_length": "9 7/8", "cuff_length": "1 1/2", "stitches": "30.5"}
    for length in ("25", "25.00"):
        typed["foot_length"] = length
        for name, cm in typed.items():
            field(form, name).fill(cm)
        for switch, shown in ((in_inches, switched), (in_cm, typed), (in_inches, switched), (in_cm, typed)):
            switch(form)
            for name, value in shown.items():
                expect(field(form, name)).to_have_value(value)
    a_shoe_size_fills_in_the_foot_and_says_that_it_is_a_guess(form)


def test_half_inches_can_be_typed_as_knitters_write_them(form: Page) -> None:
    """Of all spellings counts are offered; what the server reads of each is shown in tests/forms."""
    asked = form.locator("#asked")
    in_inches(form)
    field(form, "ball_circumference").fill("8 7/8")
    field(form, "stitches").fill("32")
    for typed in ("9 1/2", "9.5", "9,5", "9½"):
        field(form, "foot_length").fill("")
        expect(form.locator("#choices input[type=radio]")).to_have_count(0)
        field(form, "foot_length").fill(typed)
        expect(form.locator("#choices input:checked")).to_have_count(1)
    form.get_by_role("button", name="Make the plan").tap()
    expect(asked.locator("div", has=form.get_by_text("Foot length"))).to_contain_text("9 1/2 in")
    form.get_by_role("link", name="In cm").tap()
    expect(asked.locator("div", has=form.get_by_text("Foot length"))).to_contain_text("24.1 cm")


def test_counts_are_offered_as_soon_as_the_numbers_allow_it(form: Page) -> None:
    offers = form.locator("#choices input[type=radio]")
    field(form, "ball_circumference").fill("23")
    field(form, "foot_length").fill("25")
    expect(offers).to_have_count(0)
    field(form, "stitches").fill("30")
    # The planning shows the three to five nearest.
    expect(form.locator("#choices input:checked")).to_have_count(1)
    assert 3 <= offers.count() <= 5
    counts = [int(text) for text in form.locator(".choice-count b").all_inner_texts()]
    assert all(count % 4 == 0 for count in counts), "k2 p2 goes into each"
    form.get_by_text("Rib, leg and cuff").tap()
    field(form, "rib").fill("k3 p3")
    expect(form.locator(".choice-count b").first).to_have_text(re.compile(r"^(48|54|60|66|72)$"))
    what_is_wrong_stands_beside_its_field_and_nothing_typed_is_lost(form)


def what_is_wrong_stands_beside_its_field_and_nothing_typed_is_lost(form: Page) -> None:
    field(form, "title").fill("Slippers & <socks>")
    field(form, "ball_circumference").fill("22,8")
    field(form, "foot_length").fill("250")
    field(form, "stitches").fill("lots")
    form.get_by_role("button", name="Make the plan").tap()

    expect(form.locator("#errors")).to_be_focused()
    for name, typed, says in [("stitches", "lots", "A number is needed"), ("foot_length", "250", "Allowed: ")]:
        expect(field(form, name)).to_have_value(typed)
        expect(field(form, name)).to_have_attribute("aria-invalid", "true")
        expect(field(form, name)).to_have_accessible_description(re.compile(says))
    expect(field(form, "ball_circumference")).to_have_value("22,8")
    expect(field(form, "title")).to_have_value("Slippers & <socks>")

    field(form, "stitches").fill("30")
    expect(field(form, "stitches")).not_to_have_attribute("aria-invalid", "true")
    field(form, "foot_length").fill("25")
    form.get_by_role("button", name="Make the plan").tap()
    expect(form.get_by_role("heading", level=1)).to_have_text("Slippers & <socks>")


def test_counts_are_offered_for_what_was_typed_before_the_scripts_were_there(page: Page) -> None:
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    page.route("**/forms/choices.js", hold)
    with page.expect_request("**/forms/choices.js"):
        page.goto("/plan", wait_until="commit")
    for name, text in {"ball_circumference": "22,8", "foot_length": "24.5", "stitches": "30"}.items():
        field(page, name).fill(text)
    held[0].continue_()
    expect(page.locator("#choices input:checked")).to_have_count(1)


def test_a_sample_fills_the_form_in(page: Page) -> None:
    page.goto("/")
    page.get_by_role("link", name=re.compile("Ruddock")).tap()
    expect(page.get_by_role("heading", name="Counts and sizes")).to_be_visible()
    page.get_by_role("link", name="Change it for my foot").tap()
    expect(field(page, "ball_circumference")).to_have_value("28")
    expect(page.locator("#choices input:checked")).to_have_count(1)
    page.get_by_role("button", name="Make the plan").tap()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Ruddock")


def a_shoe_size_fills_in_the_foot_and_says_that_it_is_a_guess(form: Page) -> None:
    form.get_by_text("Start from a shoe size").tap()
    field(form, "shoe_system").select_option("UK")
    field(form, "shoe_size").fill("8½")
    form.get_by_role("button", name="Fill in the foot").tap()
    # UK = 3 in - 23, as published converters have it: 10 1/2 in are 26.67 cm.
    expect(field(form, "foot_length")).to_have_value("26.7")
    expect(form.locator("#shoe-said")).to_contain_text("This is a guess")
    in_inches(form)
    expect(field(form, "foot_length")).to_have_value("10 1/2")
    expect(form.locator("#shoe-said")).to_contain_text("a foot about 10 1/2 in")
    field(form, "shoe_size").fill("88")
    form.get_by_role("button", name="Fill in the foot").tap()
    expect(form.locator("#shoe-said")).to_contain_text("Allowed: UK 0 to 17")
    expect(field(form, "foot_length")).to_have_value("10 1/2")


def test_only_from_the_toe_up_can_the_leg_go_on_until_the_yarn_is_used(form: Page) -> None:
    group = form.locator("details", has=form.get_by_text("Rib, leg and cuff"))
    group.locator("summary").tap()
    by_yarn = form.get_by_role("radio", name="Until half the yarn is gone")
    expect(by_yarn).to_be_hidden()
    form.get_by_text("Construction", exact=True).tap()
    form.get_by_text("Toe-up", exact=True).tap()
    expect(form.get_by_text("reaches the calf")).to_be_hidden()
    by_yarn.tap()
    expect(form.get_by_text("reaches the calf")).to_be_visible()
    expect(field(form, "leg_length")).to_be_hidden()
    expect(group.locator("summary")).to_contain_text("leg until half the yarn is gone", use_inner_text=True)
    expect(group.locator("summary")).not_to_contain_text("14", use_inner_text=True)
    for name, typed in {"ball_circumference": "23", "foot_length": "25", "stitches": "30"}.items():
        field(form, name).fill(typed)
    form.get_by_role("button", name="Make the plan").tap()
    asked = form.locator("#asked")
    expect(asked).to_contain_text("until half the yarn is gone")


def how_a_flap_is_made_is_asked_only_while_the_heel_has_one(form: Page) -> None:
    form.get_by_text("Construction", exact=True).tap()
    how = [form.get_by_role("group", name=name) for name in ("Heel turn", "Back of the heel")]
    for heel, asked in (("heel flap", True), ("afterthought heel", False), ("heel flap", True)):
        form.locator(f'input[name="heel"][data-says="{heel}"]').check(force=True)
        for each in how:
            expect(each).to_be_visible(visible=asked)


def what_is_chosen_in_a_list_is_shown_beside_it(form: Page) -> None:
    for name, word in (("cuff_edge", "picot hem"), ("leg_height", "knee"), ("cuff_edge", "tubular")):
        field(form, name).select_option(word)
        drawn = form.locator(f'[data-follows="{name}"] use')
        expect(drawn).to_have_attribute("href", f"#way-{name}-{word.replace(' ', '-')}")
        assert drawn.evaluate("(use) => use.getBBox().width") > 20


def test_a_pair_two_at_a_time_with_a_part_in_another_yarn_is_made_by_the_enter_key(form: Page) -> None:
    form.locator("summary", has_text="Needles").tap()
    field(form, "arrangement").select_option("long circular")
    form.get_by_text("Two at a time", exact=True).tap()
    a_yarn_chosen_for_a_part_can_be_typed_at_once(form)
    for number, value in (("ball_circumference", "22.5"), ("foot_length", "24.5"), ("stitches", "30")):
        field(form, number).fill(value)
    field(form, "stitches").press("Enter")
    expect(form.get_by_text("Yarn B: chalk")).to_be_visible()
    expect(form.get_by_role("heading", level=1)).to_have_text("Socks")
    expect(form.locator("#asked")).to_contain_text("long circular, 2.5 mm, two at a time")


def a_yarn_chosen_for_a_part_can_be_typed_at_once(form: Page) -> None:
    """Without a chart or stripes: choosing it is enough for its fields to be there."""
    form.get_by_text("Yarn", exact=True).tap()
    name = field(form, "yarn_name_b")
    expect(name).to_be_hidden()
    form.get_by_text("Parts in another yarn").tap()
    field(form, "heel_yarn").select_option("B")
    expect(name).to_be_visible()
    name.fill("chalk")
    expect(field(form, "heel_yarn").locator("option:checked")).to_have_text("B: chalk")
    expect(form.locator("summary").filter(has_text="at hand")).to_contain_text("heel in B")


def test_a_height_by_name_fills_in_leg_and_cuff_as_the_server_would(form: Page) -> None:
    form.get_by_text("Rib, leg and cuff").tap()
    leg, cuff, height = (field(form, name) for name in ("leg_length", "cuff_length", "leg_height"))
    field(form, "foot_length").fill("27.5")
    expect(leg).to_have_value("14")
    for name in HEIGHTS:
        height.select_option(name)
        for shown, cm in zip((leg, cuff), lengths_of(name, 27.5), strict=True):
            expect(shown).to_have_value(f"{cm:g}")
    field(form, "foot_length").fill("22")
    expect(leg).to_have_value(f"{lengths_of('knee', 22)[0]:g}")
    leg.fill("20")
    expect(height).to_have_value("")
    in_inches(form)
    height.select_option("ankle")
    expect(leg).to_have_value("1")  # 2.5 cm are 0.98 in
    in_cm(form)
    the_leg_is_asked_for_where_it_reaches_the_calf(form)


def the_leg_is_asked_for_where_it_reaches_the_calf(form: Page) -> None:
    asks = form.get_by_text("reaches the calf")
    expect(asks).to_be_hidden()
    field(form, "leg_length").fill("24")
    expect(asks).to_be_visible()
    in_inches(form)
    expect(asks).to_be_visible()
    field(form, "leg_length").fill("7")
    expect(asks).to_be_hidden()
    field(form, "leg_length").fill("9 1/2")
    expect(asks).to_be_visible()
    form.get_by_text("More about the foot").tap()
    field(form, "leg_circumference").fill("13")
    expect(asks).to_be_hidden()


def test_a_small_foot_gets_a_small_crew_sock_and_any_other_the_usual_one(form: Page) -> None:
    form.get_by_text("Rib, leg and cuff").tap()
    field(form, "foot_length").fill("23.5")
    field(form, "stitches").focus()
    expect(field(form, "leg_length")).to_have_value("14")
    field(form, "foot_length").fill("15")
    field(form, "stitches").focus()
    expect(field(form, "leg_height")).to_have_value("crew")
    expect(field(form, "leg_length")).to_have_value("8.5")
    expect(field(form, "cuff_length")).to_have_value("2.5")
    what_is_chosen_in_a_list_is_shown_beside_it(form)
    how_a_flap_is_made_is_asked_only_while_the_heel_has_one(form)
