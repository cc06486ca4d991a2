"""A server, a browser, and phones that are watched while a test has them in hand."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any, TypeAlias

import pytest
from playwright.sync_api import Browser, Locator, Page, Playwright, expect

from .chromium import PATIENCE, PhoneOnDisk, Watch, phone
from .given import NO_WORKERS
from .knitting import Knitting
from .modules import Modules
from .server import Server, serving
from .used_phone import USUAL, UsedPhones

expect.set_options(timeout=PATIENCE)

NewPhone: TypeAlias = Callable[..., Page]


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with serving(tmp_path_factory.mktemp("server")) as started:
        yield started


@pytest.fixture
def own_server(tmp_path: Path) -> Iterator[Server]:
    """A server for one test alone, which may treat it badly."""
    folder = tmp_path / "server"
    folder.mkdir()
    with serving(folder) as started:
        yield started


@pytest.fixture(autouse=True)
def no_stranger_is_asked(strangers: list[str]) -> Iterator[None]:
    """What is between the knitter and her server stays there."""
    strangers.clear()
    yield
    assert strangers == []


@pytest.fixture
def without_worker() -> None:
    """Phones without service workers, as where the server is reached by plain http.

    For tests of what a page does by itself: to install the worker takes a phone longer than most of them.
    """


@pytest.fixture
def own_phone() -> None:
    """For tests that leave the browser itself another, by scripts before a page's own or another clock, or want it new.

    The usual phone is new to whatever a test would notice, but has the scripts and, unless it is without, the worker.
    """


@pytest.fixture(scope="session")
def used_phones(chromium: Browser, server: Server) -> UsedPhones:
    """They are closed with the browser."""
    return UsedPhones(chromium, server.address)


@pytest.fixture
def new_phone(request: pytest.FixtureRequest, chromium: Browser, used_phones: UsedPhones) -> Iterator[NewPhone]:
    """Gives a page of one phone after another that know nothing; at the end none of them has had a hidden error.

    Where only some phones of a test need a worker, the others are asked for with `worker=False`.
    """
    workers = "without_worker" not in request.fixturenames
    used: dict[bool, int] = {True: 0, False: 0}
    watches: list[Watch] = []
    with ExitStack() as stack:

        def make(
            server: Server,
            width: int = USUAL["width"],
            height: int = USUAL["height"],
            *,
            worker: bool = workers,
            **options: Any,
        ) -> Page:
            if server.address == used_phones.origin and not options and "own_phone" not in request.fixturenames:
                one = used_phones.phone(used[worker], worker=worker)
                used[worker] += 1
                watches.append(one.watch)
                stack.callback(one.put_down)
                return one.emptied({"width": width, "height": height})
            context = stack.enter_context(
                chromium.new_context(base_url=server.address, **{**phone(width, height), **options})
            )
            context.set_default_timeout(PATIENCE)
            if not worker:
                context.add_init_script(NO_WORKERS)
            watches.append(Watch())
            watches[-1].follow(context)
            return context.new_page()

        yield make
        assert [problem for watch in watches for problem in watch.problems] == []


@pytest.fixture(scope="session")
def modules(chromium: Browser, server: Server) -> Iterator[Modules]:
    """The scripts of a knit page, which stays open for all tests that only ask its functions."""
    watch = Watch()
    with chromium.new_context(base_url=server.address, **phone()) as context:
        context.add_init_script(NO_WORKERS)
        watch.follow(context)
        page = context.new_page()
        Knitting(page, server.add_pair()).open()
        yield Modules(page)
    assert watch.problems == []


@pytest.fixture
def page(new_phone: NewPhone, server: Server) -> Page:
    """A page on a phone that knows nothing."""
    return new_phone(server)


@pytest.fixture
def form(page: Page) -> Page:
    """The plan form, open on a phone."""
    page.goto("/plan")
    return page


def field(page: Page, name: str) -> Locator:
    """The field of a form that is sent by this name."""
    return page.locator(f"[name={name}]")


@pytest.fixture
def link(server: Server) -> str:
    """The link of a fresh pair."""
    return server.add_pair()


@pytest.fixture
def knitting(page: Page, link: str) -> Knitting:
    """The knit page of a fresh pair, open on a phone."""
    return Knitting(page, link).open()


@pytest.fixture
def on_disk(playwright: Playwright, tmp_path: Path, own_server: Server) -> PhoneOnDisk:
    """A phone whose browser can be killed and opened again, for the test's own server."""
    return PhoneOnDisk(playwright, tmp_path / "phone", own_server.address)
