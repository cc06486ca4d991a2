"""Which kind of link opens which address: one table of all of them, and everything else is refused."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

import pytest
from flask import Flask

from companion.web.links import follower_link

from ..conftest import Browser
from .designing import BODY, DESIGN, join, keep_photo, lead, lead_too

KINDS = ("leader", "further leader", "follower", "pair of a follower", "pair of one's own", "unknown")

FIRST = {"leader"}
LEADER = FIRST | {"further leader"}
FOLLOWER = {"follower"}
LED = {"pair of a follower"}
PAIR = {"pair of a follower", "pair of one's own"}

OPENS = {
    "designs.lead": LEADER,
    "designs.edit": LEADER,
    "designs.change": LEADER,
    "designs.document": LEADER,
    "photos.keep": LEADER,
    "photos.of_design": LEADER,
    "photos.remove": LEADER,
    "photos.of_pair": LED,
    "designs.copy": LEADER,
    "designs.card": LEADER,
    "design_files.export": LEADER,
    "design_files.move": FIRST,
    "ending.end": LEADER,
    "ending.reopen": LEADER,
    "design_links.replace": LEADER,
    "reveal.remove": LEADER,
    "design_links.add": FIRST,
    "design_links.remove": FIRST,
    "recovery.make": FIRST,
    "group.group": LEADER,
    "patterns.of_design": LEADER,
    "patterns.of_design_in_markdown": LEADER,
    "patterns.of_design_in_text": LEADER,
    "size_grids.grid": LEADER,
    "size_grids.grid_in_csv": LEADER,
    "size_grids.grid_in_markdown": LEADER,
    "announcing.tell": LEADER,
    "announcing.remove": LEADER,
    "announcing.seen": LED,
    "joining.form": FOLLOWER,
    "joining.join": FOLLOWER,
    "joining.picture": FOLLOWER,
    "joining.grid": FOLLOWER,
    "joining.calendar": FOLLOWER,
    "following.compare": LED,
    "following.accept": LED,
    "following.leave": LED,
    "following.come_back": PAIR,
    "following.share": LED,
    "following.withdraw": LED,
    "pages.plan": PAIR,
    "pair_files.export": PAIR,
    "pair_files.logbook": PAIR,
    "pages.knit": PAIR,
    "patterns.of_pair": PAIR,
    "patterns.of_pair_in_markdown": PAIR,
    "patterns.of_pair_in_text": PAIR,
    "sync.pair_json": PAIR,
    "sync.log": PAIR,
    "sync.put_back": set(KINDS),  # takes a pair where there is none, and shows nothing
    "sync.begin": set(KINDS),  # the same
    "checks.check": PAIR,
    "checks.result": PAIR,
    "checks.keep": PAIR,
    "checks.leave_out": PAIR,
    "accepting.accept": PAIR,
    "accepting.undo": PAIR,
    "proposals.propose": PAIR,
    "deleting.ask_design": FIRST,
    "deleting.delete_design": FIRST,
    "deleting.ask_pair": PAIR,
    "deleting.delete_pair": PAIR,
    "yarn.left": PAIR,
    "yarn.leave_out": PAIR,
    "yarn.make_leg": PAIR,
    "plans.next_pair": PAIR,
    "plan_code.code": PAIR,
    "copies.copy": PAIR,
    "changing.ask": PAIR,
    "changing.change": PAIR,
    "try_on.options": PAIR,
    "try_on.accept": PAIR,
    "second_sock.options": PAIR,
    "second_sock.choose": PAIR,
}
"""The kinds of link that open each address which has one."""

NOBODYS = {
    "assets.manifest",
    "assets.static_file",
    "assets.worker",
    "checks.check_shell",
    "pages.made_here_shell",
    "design_files.take_in",
    "designs.make",
    "designs.new",
    "designs.preview",
    "plan_code.fill_in",
    "plan_code.scanned",
    "health.health",
    "https_guide.certificate",
    "https_guide.guide",
    "on_phone.index",
    "on_phone.part",
    "pages.index",
    "pages.knit_shell",
    "pair_files.import_pair",
    "plans.choices",
    "plans.make",
    "plans.new",
    "plans.shoe_size",
    "plans.stitches",
    "plans.stitches_typed",
    "recovery.recover",
    "sample_pages.knit",
    "sample_pages.show",
    "sync.csrf_token",
}
"""What is open to all, because it shows nothing that anybody has made."""


@pytest.fixture
def links(browser: Browser) -> dict[str, str]:
    leader = lead(browser)
    keep_photo(browser, leader)
    own = (
        leader,
        lead_too(browser, leader),
        follower_link(leader),
        join(browser, leader),
        browser.make_pair(),
        "A" * 22,
    )
    return dict(zip(KINDS, own, strict=True))


def linked(app: Flask) -> Iterator[tuple[str, str]]:
    """The endpoints whose address has a link, with a method each."""
    for rule in app.url_map.iter_rules():
        if "link" in rule.arguments:
            yield from ((rule.endpoint, method) for method in (rule.methods or set()) & {"GET", "POST"})


def test_every_address_is_in_the_table_or_open_to_all(app: Flask) -> None:
    assert {endpoint for endpoint, _ in linked(app)} == set(OPENS)
    assert {rule.endpoint for rule in app.url_map.iter_rules()} == set(OPENS) | NOBODYS
    named = {name for rule in app.url_map.iter_rules() for name in rule.arguments}
    assert named == {"link", "part", "version", "path", "key"}, (
        "nothing but links and what comes with the program has a name"
    )


def test_a_link_opens_its_own_addresses_and_no_other(app: Flask, browser: Browser, links: dict[str, str]) -> None:
    addresses = app.url_map.bind("localhost")
    token = browser.token()
    tried = 0
    # What takes away comes last: a link before the design, a pair before the design that it follows.
    ends = ("design_links.replace", "following.leave", "deleting.delete_pair", "deleting.delete_design")
    endpoints = sorted(linked(app), key=lambda one: (ends.index(one[0]) if one[0] in ends else -1, one))
    for (endpoint, method), kind in product(endpoints, KINDS):
        part = {"part": "heel"} if app.url_map.is_endpoint_expecting(endpoint, "part") else {}
        url = addresses.build(endpoint, {"link": links[kind], **part}, method=method)
        data = {**DESIGN, **BODY, "name": "Wiebke", "csrf_token": token} if method == "POST" else None
        answer = browser.client.open(url, method=method, data=data, headers={"X-CSRFToken": token})
        opened = answer.status_code != 404
        assert opened == (kind in OPENS[endpoint]), (endpoint, method, kind, answer.status_code)
        assert answer.status_code < 500
        if not opened:
            assert links[kind] not in answer.text
        tried += 1
    assert tried == len(OPENS) * len(KINDS)


def test_no_page_of_a_follower_names_another_or_the_leaders_link(browser: Browser, links: dict[str, str]) -> None:
    other = join(browser, links["leader"])
    browser.post(f"/pair/{other}/share", {"first_name": "Wiebke", "size": "y"})
    assert "Wiebke" in browser.get(f"/design/{links['leader']}/group").text
    mine = f"/pair/{links['pair of a follower']}"
    for url in (mine, f"{mine}/knit", f"{mine}/pair.json", f"{mine}/design", f"/join/{links['follower']}"):
        text = browser.get(url).text
        assert "Wiebke" not in text
        assert other not in text
        assert links["leader"] not in text
    for url in (f"/design/{links['leader']}", f"/design/{links['leader']}/group"):
        assert other not in browser.get(url).text, "a leader cannot open a follower's pair"
