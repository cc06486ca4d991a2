"""An app with pairs in every state, which answers requests and is looked at while it does."""

from __future__ import annotations

import io
import json
import logging
import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from http import HTTPStatus
from pathlib import Path
from typing import Any, NamedTuple
from urllib.parse import urlsplit
from wsgiref.util import setup_testing_defaults

from werkzeug.exceptions import HTTPException
from werkzeug.test import run_wsgi_app

from companion.web import create_app
from companion.web.https_guide import HouseAuthority

from ...conftest import FORM, NOON, Browser, entry
from ...photographs import photograph
from ...storing import copied
from ..checking import LOOSE
from ..designing import BODY, DESIGN
from .hostile import Body, Sent
from .page_forms import PageForm, read_page
from .pair_states import State, every_state

FILLED: Mapping[str, str] = {**LOOSE, **DESIGN, **BODY, **FORM, "shoe_system": "EU", "shoe_size": "38", "name": "Arne"}
"""What is typed into fields that a page leaves empty, by their names."""

HANDED_ON = {"foot": {"ball_circumference_cm": 22, "length_cm": 24}, "gauge": {"stitches_per_10cm": 30}}

BY_SCRIPTS: Mapping[str, Body] = {
    "sync.log": Body(document={"after": 0, "entries": [entry(number, clock=5000) for number in (7, 8)]}),
    "plans.choices": Body(tuple(FORM.items())),
    "designs.preview": Body(tuple(DESIGN.items())),
    "plans.shoe_size": Body((("unit", "cm"), ("shoe_system", "EU"), ("shoe_size", "38"))),
    "plans.stitches_typed": Body((("pattern_rows", "k2, yo, k2tog\nk4"),)),
    "plan_code.fill_in": Body((("request", json.dumps(HANDED_ON)),)),
    "accepting.undo": Body((("sock", "1"),)),
    "proposals.propose": Body(document={"proposal": {"back": 2, "sock": 1}}),
}
"""What the pages' scripts send, or send a form to, by endpoint: no page's form says it."""

LINK_KIND = {"pair": "pair", "design": "leader", "join": "follower"}
"""The kind of link by the first part of an address."""

MOST_SENT = 6
"""Of the bodies that the forms of a state have for one address: each is tried in the end."""


class Route(NamedTuple):
    """One method of one address of the app."""

    endpoint: str
    rule: str
    method: str

    @property
    def kind(self) -> str:
        """The kind of link that it has; empty where it has none."""
        return LINK_KIND[self.rule.split("/")[1]] if "<link>" in self.rule else ""


class World:
    """An app whose pairs are in every state, put back as they were before each example."""

    def __init__(self, folder: Path) -> None:
        self.file, self.before = folder / "pairs.sqlite3", folder / "before.sqlite3"
        authority = HouseAuthority(b"a certificate", "3F 0A", "https://192.168.1.5:8713")
        named = {
            "PUBLIC_URL": "https://socks.example",
            "HOSTS": frozenset({"socks.example", "localhost"}),
            "AUTHORITY": authority,
        }
        self.app = create_app({"DATABASE": self.file, "CLOCK": lambda: NOON, "QUOTAS": False, **named})
        self.browser = Browser(self.app.test_client())
        self.states = every_state(self.browser)
        self.links = {link for state in self.states for link in state.links.values()}
        self.token = self.browser.token()
        cookie = self.browser.client.get_cookie("tapeline")
        assert cookie
        self.cookie = f"tapeline={cookie.value}"
        copied(self.file, self.before)
        self.routes = [
            Route(rule.endpoint, rule.rule, method)
            for rule in self.app.url_map.iter_rules()
            for method in sorted((rule.methods or set()) - {"HEAD", "OPTIONS"})
        ]
        self.answered: Counter[tuple[str, str]] = Counter()
        self.bodies: dict[tuple[str, str], list[Body]] = {}
        self.open: defaultdict[Route, list[State]] = defaultdict(list)
        self.requests = 0
        self.touched = False
        self.assets: set[str] = set()
        self.files = {"photo": photograph(), "design": b'{"title": "Larch and moss"}'}
        self.exports: list[str] = []
        self.answers: dict[tuple[str, str, bytes], tuple[int, str]] = {}

    def restore(self) -> None:
        """Put the pairs back as they were made, if anything may have changed them since."""
        if self.touched:
            copied(self.before, self.file)
        self.touched = False

    def route_of(self, path: str, method: str) -> str | None:
        """The endpoint of an address."""
        try:
            endpoint, _ = self.app.url_map.bind("localhost").match(path, method)
        except HTTPException:
            return None
        return str(endpoint)

    def send(self, sent: Sent) -> tuple[int, str, str]:
        """Answer a request; returns the status, the place it leads to and the body. Fails where it may not be so."""
        self.requests += 1
        self.touched = self.touched or sent.method not in {"GET", "HEAD"}
        heard = Listener()
        errors = io.StringIO()
        root = logging.getLogger()
        level = root.level
        root.addHandler(heard)
        root.setLevel(logging.DEBUG)
        try:
            chunks, told, headers = run_wsgi_app(self.app.wsgi_app, self._environ(sent, errors), buffered=True)
            body = b"".join(chunks).decode("utf-8", "replace")
        finally:
            root.setLevel(level)
            root.removeHandler(heard)
        said = "\n".join([*heard.said, errors.getvalue()])
        status = int(told.split()[0])
        assert status < 500, f"{sent.method} {sent.path}: {told}\n{said}"
        assert "Traceback" not in said + body, said
        assert not [link for link in self.links if link in said], "a log gives a link away"
        for name, value in headers:
            assert not re.search(r"[\r\n\0]", name + value), name
        leads = headers.get("Location", "")
        assert urlsplit(leads).netloc in {"", "localhost", "socks.example"}, leads
        if status < 400 and (route := self.route_of(sent.path, sent.method)):
            self.answered[route, sent.method] += 1
        return status, leads, body

    def _environ(self, sent: Sent, errors: io.StringIO) -> dict[str, Any]:
        environ: dict[str, Any] = {
            "REQUEST_METHOD": sent.method,
            # As servers hand it on: decoded, and its bytes as Latin-1 (PEP 3333).
            "PATH_INFO": sent.path.encode("utf-8", "surrogatepass").decode("latin-1"),
            "QUERY_STRING": sent.query,
            "HTTP_HOST": "localhost",
            # Each from an address of its own, of those for examples (RFC 3849): none of them asks too often.
            "REMOTE_ADDR": f"2001:db8::{self.requests:x}",
            "HTTP_COOKIE": self.cookie,
            "HTTP_X_CSRFTOKEN": self.token,
            "CONTENT_TYPE": sent.kind,
            "CONTENT_LENGTH": str(len(sent.body)),
            "wsgi.input": io.BytesIO(sent.body),
            "wsgi.errors": errors,
            **sent.headers,
        }
        setup_testing_defaults(environ)
        return environ


class Listener(logging.Handler):
    """Keeps what is logged, with the tracebacks."""

    def __init__(self) -> None:
        super().__init__(logging.DEBUG)
        self.setFormatter(logging.Formatter())
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.said.append(self.format(record))


def address(rule: str, **values: str) -> str:
    """A rule with something in each of its places; a sample is asked for by its name."""
    return re.sub(r"<(?:\w+:)?(\w+)>", lambda place: {"key": "ismene", **values}.get(place[1], "x"), rule)


def typed_in(form: PageForm, files: Mapping[str, bytes]) -> Iterator[Body]:
    """What a browser would send of a form, once for each of its buttons."""
    fields = [(name, value or FILLED.get(name, "")) for name, value in form.fields]
    given_files = [(name, files.get(name, b"")) for name in form.files]
    for name, value in form.buttons or [("", "")]:
        yield Body([*fields, *([(name, value)] if name else [])], form.choices, given_files)


def keep_files(world: World) -> None:
    """Export each pair; one that is only on a phone any more can be put back, or begun, from the file of another."""
    for state in world.states:
        if "pair" not in state.links:
            continue
        status, _, exported = world.send(Sent("GET", f"/pair/{state.links['pair']}/export"))
        if status == HTTPStatus.OK:
            world.files["pair"] = exported.encode()
            world.exports.append(exported)
        else:
            document = json.loads(world.files["pair"])
            begun = {**document, "log": [], "revisions": document["revisions"][:1], "follows": None}
            world.bodies[state.name, "sync.put_back"] = [Body(document=document)]
            world.bodies[state.name, "sync.begin"] = [Body(document=begun)]


def walk(world: World) -> None:
    """Open every page of every state, send what its forms and scripts would, and remember what can be sent where.

    What is taken comes first among the bodies of a state, and `open` has the states in which an address answers.
    """
    for state in world.states:
        there = [route for route in world.routes if route.kind in state.links or not re.search("<(?!key>)", route.rule)]
        for route in there:
            if route.method == "GET":
                visit(world, state, route)
        for route in there:
            if route.method == "POST":
                send_all(world, state, route)
    for path in world.assets:
        world.send(Sent("GET", path))


def answer(world: World, state: State, route: Route, body: Body | None = None) -> tuple[int, str]:
    """The status and the text of an answer. An address without a link is asked once: it knows of no state."""
    path = address(route.rule, link=state.links.get(route.kind, ""), part="heel")
    kind, written = body.sent() if body else ("", b"")
    asked = (route.method, path, written)
    if asked not in world.answers or route.kind:
        status, _, text = world.send(Sent(route.method, path, kind=kind, body=written))
        world.restore()
        world.answers[asked] = status, text
    return world.answers[asked]


def visit(world: World, state: State, route: Route) -> None:
    """Open a page and learn what its forms send."""
    page = address(route.rule, link=state.links.get(route.kind, ""), part="heel")
    status, body = answer(world, state, route)
    if status < 400:
        world.open[route].append(state)
    if "<html" not in body:
        return
    forms, addresses = read_page(page, body)
    world.assets |= {found for found in addresses if found.startswith("/static/")}
    for form in forms:
        endpoint = world.route_of(form.path, form.method)
        if form.method == "POST" and endpoint:
            found = world.bodies.setdefault((state.name, endpoint), [])
            found += [body for body in typed_in(form, world.files) if body not in found]


def send_all(world: World, state: State, route: Route) -> None:
    """Send what the forms and scripts of a state's pages would send to an address."""
    bodies = world.bodies.setdefault((state.name, route.endpoint), [])
    bodies += [BY_SCRIPTS[route.endpoint]] if route.endpoint in BY_SCRIPTS else []
    taken = []
    for body in bodies[:MOST_SENT]:
        status, _ = answer(world, state, route, body)
        if status < 400:
            taken.append(body)
    if taken:
        world.open[route].append(state)
        bodies[:] = [*taken, *(body for body in bodies if body not in taken)]
