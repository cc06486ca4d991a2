"""Whatever is sent to whichever address, in whatever state a pair is: no failure, no traceback, no link in a log.

The addresses are those that the app has, so a new one is tried from its first day on.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

import pytest
from hypothesis import HealthCheck, given, note, settings
from hypothesis import strategies as st

from .fuzz import hostile
from .fuzz.fuzzed_world import Route, World, address, keep_files, typed_in, walk
from .fuzz.hostile import Body, Draw, Sent
from .fuzz.page_forms import read_page
from .fuzz.pair_states import State

LONG = settings.get_current_profile_name() == "full"
REQUESTS = 20_000 if LONG else 250
IMPORTS = 2_000 if LONG else 40
WANDERINGS = 1_000 if LONG else 20

QUERY: Mapping[str, str] = {
    "sock": "1",
    "round": "60",
    "unit": "in",
    "zone": "Europe/Berlin",
    "paper": "a6",
    "sample": "ismene",
    "circumferences": "20 22",
    "lengths": "21 24",
    "gauges": "28 30x42",
    "construction": "2",
    "order": "last",
    "name": "W",
    "need": "behind",
    "at": "1-leg-2",
}
"""What addresses may ask for after a question mark."""

PARTS = ("heel", "leg", "nose", "", "../heel")


@pytest.fixture(scope="module")
def world(tmp_path_factory: pytest.TempPathFactory) -> Iterator[World]:
    made = World(tmp_path_factory.mktemp("fuzz"))
    keep_files(made)
    yield made
    made.app.extensions["store"].close()


ELSEWHERE = {("on_phone.part", "GET"), ("recovery.recover", "POST"), ("following.come_back", "POST")}
"""The Python for browsers is not installed in this world, and nobody has a code on paper or has just left a group."""


def some_link(draw: Draw, world: World, state: State, kind: str) -> str:
    """The right link most of the time; else another's, one of another kind, a bent one, or none."""
    right = state.links.get(kind, "x" * 22)
    match draw(st.integers(0, 9)):
        case 0:
            return draw(st.sampled_from(sorted(world.links)))
        case 1:
            return draw(st.sampled_from(hostile.BAD_LINKS))
        case 2:
            return hostile.bent_link(draw, right)
        case _:
            return right


def some_path(draw: Draw, world: World, state: State, route: Route) -> str:
    """An address of this route, rarely with something before or behind it."""
    rule = route.rule
    if "<path:" in rule and draw(st.booleans()):
        return draw(st.sampled_from(sorted(world.assets)))
    given_path, version = (draw(hostile.texts), draw(hostile.texts)) if "<path:" in rule else ("", "")
    part = draw(st.sampled_from(PARTS)) if "<part>" in rule else ""
    link = some_link(draw, world, state, route.kind) if route.kind else ""
    path = address(rule, link=link, part=part, version=version, path=given_path)
    if draw(hostile.FEW):
        before, behind = (
            draw(st.sampled_from(("/", "", "//evil.example", "."))),
            draw(st.sampled_from(("/", "//", "?"))),
        )
        path = f"{before}{path}{behind}"
    return path


def some_request(draw: Draw, world: World, state: State, route: Route) -> Sent:
    """A request, sound but for a few things."""
    path = some_path(draw, world, state, route)
    method = draw(st.sampled_from(hostile.METHODS)) if draw(hostile.FEW) else route.method
    kind, body = "", b""
    if method not in {"GET", "HEAD"}:
        known = world.bodies.get((state.name, route.endpoint))
        if known and not draw(hostile.FEW):
            sound = hostile.some_entries(draw) if route.endpoint == "sync.log" and draw(st.booleans()) else None
            kind, body = hostile.other_body(draw, sound or draw(st.sampled_from(known)))
        else:
            kind, body = hostile.junk_body(draw)
    query = hostile.other_query(draw, QUERY) if draw(st.booleans()) else ""
    return Sent(method, path, query, hostile.other_headers(draw), kind, body)


def follow(world: World, leads: str) -> None:
    """Open the page that an answer leads to, if it does."""
    page, _, query = leads.partition("#")[0].partition("?")
    if page:
        world.send(Sent("GET", page, query))


def look_after(world: World, path: str, leads: str, looks: Sequence[int]) -> None:
    """Open what a request that was taken leads to, and some of the pages that show what has become of the pair."""
    found = re.match(r"/(\w+)/([\w-]{22})(?:/|\?|$)", leads or path)
    if not found:
        return
    first, link = found.groups()
    follow(world, leads)
    pages = [route for route in world.routes if route.method == "GET" and route.rule.startswith(f"/{first}/<link>")]
    for number in looks:
        world.send(Sent("GET", address(pages[number % len(pages)].rule, link=link, part="heel")))


# A file that arrives in a body that breaks off is closed by nobody but the garbage collection (werkzeug 3.1).
@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
def test_sound_requests_reach_every_address_and_no_others_fail_the_server(world: World) -> None:
    """The sound ones tell what can be sent where. They take longest, so that no other test begins with them."""
    walk(world)
    unreached = {(route.endpoint, route.method) for route in world.routes} - {*world.answered, *ELSEWHERE}
    assert not unreached, "new: a form on a page leads there, or it belongs to BY_SCRIPTS"
    taken: Counter[bool] = Counter()
    writes = [route for route in world.routes if route.method != "GET"]

    @settings(max_examples=REQUESTS, suppress_health_check=list(HealthCheck))
    @given(st.data())
    def anything(data: st.DataObject) -> None:
        world.restore()  # here and not in the end, which an example that breaks off does not reach
        route = data.draw(st.sampled_from(writes if data.draw(st.booleans()) else world.routes))
        known = world.open[route]
        state = data.draw(st.sampled_from(world.states if not known or data.draw(hostile.FEW) else known))
        sent = some_request(data.draw, world, state, route)
        looks = data.draw(st.lists(st.integers(0, 99), max_size=3))
        note(str(sent))
        status, leads, _ = world.send(sent)
        taken[status < 400] += 1
        if status < 400 and sent.method not in {"GET", "HEAD"}:
            look_after(world, sent.path, leads, looks)

    anything()
    assert taken[True] > taken.total() / 4, "most requests are refused at the door"


def try_a_form(draw: Draw, world: World, state: State, page: Route) -> None:
    """Open a page as it is by now, and send one of its forms, as it stands there or with something changed."""
    opened = address(page.rule, link=state.links.get(page.kind, ""), part="heel")
    _, _, body = world.send(Sent("GET", opened))
    forms = [form for form in read_page(opened, body)[0] if form.method == "POST"] if "<html" in body else []
    if forms:
        form = draw(st.sampled_from(forms))
        filled = draw(st.sampled_from(list(typed_in(form, world.files))))
        kind, written = hostile.other_body(draw, filled) if draw(st.booleans()) else filled.sent()
        send_and_follow(world, Sent("POST", form.path, form.query, kind=kind, body=written))


def write_something(draw: Draw, world: World, link: str) -> None:
    """Have a phone send entries for the logbook."""
    kind, written = hostile.some_entries(draw).sent()
    send_and_follow(world, Sent("POST", f"/pair/{link}/log", kind=kind, body=written))


def send_and_follow(world: World, sent: Sent) -> None:
    note(str(sent))
    _, leads, _ = world.send(sent)
    follow(world, leads)


def test_nobody_who_tries_one_thing_after_another_fails_the_server(world: World) -> None:
    """Up to eight things with the same pair, each from the page as the one before has left it."""
    pages = [route for route in world.routes if route.method == "GET" and route.kind]

    @settings(max_examples=WANDERINGS, suppress_health_check=list(HealthCheck))
    @given(st.data())
    def wandering(data: st.DataObject) -> None:
        world.restore()
        state = data.draw(st.sampled_from(world.states))
        there = [page for page in pages if page.kind in state.links]
        for _ in range(data.draw(st.integers(1, 8))):
            if "pair" in state.links and data.draw(st.booleans()):
                write_something(data.draw, world, state.links["pair"])
            else:
                try_a_form(data.draw, world, state, data.draw(st.sampled_from(there)))
        for page in data.draw(st.lists(st.sampled_from(there), min_size=2, max_size=4, unique=True)):
            world.send(Sent("GET", address(page.rule, link=state.links[page.kind], part="heel")))

    wandering()


def test_no_pair_from_a_file_fails_the_server(world: World) -> None:
    """A file may have been written by anybody; what is taken of it opens on every page."""
    pages = [route for route in world.routes if route.method == "GET" and route.kind == "pair"]

    @settings(max_examples=IMPORTS, suppress_health_check=list(HealthCheck))
    @given(st.data())
    def importing(data: st.DataObject) -> None:
        world.restore()
        document = json.loads(data.draw(st.sampled_from(world.exports)))
        for _ in range(data.draw(st.integers(1, 3))):
            document = hostile.other_document(data.draw, document)
        kind, written = Body(files=[("pair", hostile.json_body(document))]).sent()
        _, leads, _ = world.send(Sent("POST", "/import", kind=kind, body=written))
        if leads:
            for page in pages:
                world.send(Sent("GET", address(page.rule, link=leads.removeprefix("/pair/"), part="heel")))

    importing()
