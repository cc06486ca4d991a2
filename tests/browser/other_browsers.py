"""Firefox and WebKit, each driven by an open standard, with the few things that a journey needs.

Nothing here waits without limit: each answer has a time by which it is due, and a browser that is silent for longer
than its journeys may take is killed, which ends every wait for it.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import socket
import subprocess
import threading
import time
from abc import ABC, abstractmethod
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import IO, Any
from urllib.request import Request, urlopen

import websocket

from .knitting import APART

ANSWER = 40
"""Seconds after which an answer that has not come is given up."""
JOURNEYS = 600
"""Seconds after which a browser is killed, whatever it does. It may have to begin a Python meanwhile."""

FIREFOX = shutil.which("firefox-esr") or shutil.which("firefox")
WEBKIT_DRIVER = shutil.which("WebKitWebDriver")
SCREEN = shutil.which("Xvfb")
MINI_BROWSER = next(Path("/usr/lib").glob("*/webkit2gtk-4.1/MiniBrowser"), None)
HAS_FIREFOX = bool(FIREFOX)
HAS_WEBKIT = all((WEBKIT_DRIVER, SCREEN, MINI_BROWSER))

QUIET = {
    "app.normandy.enabled": False,
    "app.update.enabled": False,
    "browser.safebrowsing.malware.enabled": False,
    "browser.safebrowsing.phishing.enabled": False,
    "datareporting.policy.dataSubmissionEnabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "nimbus.rollouts.enabled": False,
    "services.settings.server": "data:,",
}
"""Settings that keep Firefox from talking to anybody else."""

BARE = {
    "browser.aboutwelcome.enabled": False,
    "browser.newtabpage.enabled": False,
    "browser.startup.homepage": "about:blank",
    "browser.startup.page": 0,
    "dom.ipc.processPrelaunch.enabled": False,
    "extensions.enabledScopes": 0,
    "toolkit.telemetry.enabled": False,
}
"""Settings that spare it pages of its own, and a process in reserve: it begins in two thirds of the time."""

SPARING = {"JSC_useOMGJIT": "0", "WEBKIT_DISABLE_COMPOSITING_MODE": "1"}
"""Has WebKit compile WebAssembly once: to do it again, and better, takes it longer than all that is asked here. And has
it paint without the graphics processor, which a program would have to stand in for."""

DOWNLOADS = "downloads"

LOADED = """() => new Promise((loaded) => {
    const end = () => setTimeout(loaded);
    if (document.readyState === "complete") end();
    else addEventListener("load", end, { once: true });
})"""
"""Waits until the page is loaded, and the browser's own process has been told."""
TEXT = """(selector) => document.querySelector(selector)?.textContent.trim() ?? "" """
SHOWS = """(selector, pattern, within) => new Promise((seen) => {
    const look = () => {
        const text = document.querySelector(selector)?.textContent.trim() ?? "";
        if (new RegExp(pattern).test(text)) done("");
        return text;
    };
    const watch = new MutationObserver(look);
    const timer = setTimeout(() => done(`${selector} shows "${look()}", not ${pattern}`), within);
    function done(fault) {
        clearTimeout(timer);
        watch.disconnect();
        seen(fault);
    }
    watch.observe(document, { childList: true, subtree: true, characterData: true });
    look();
})"""


class OtherBrowser(ABC):
    """A window of a browser."""

    @abstractmethod
    def goto(self, address: str) -> None:
        """Open a page and wait until it is loaded."""

    @abstractmethod
    def call(self, function: str, *arguments: str | float) -> Any:
        """What a JavaScript function of the page answers; a promise is waited for."""

    @abstractmethod
    def tap(self, selector: str) -> None:
        """Touch the middle of an element, where the browser can be touched; else click it."""

    def wait(self, milliseconds: float) -> None:
        """Let that time pass on the page."""
        self.call("(wait) => new Promise((go) => setTimeout(go, wait))", milliseconds)

    def count(self, times: int) -> None:
        """Tap that many rounds away, each long enough after the one before."""
        for _ in range(times):
            self.wait(APART)
            self.tap("#done")

    def reload(self) -> None:
        """Open the same page again."""
        self.goto(self.call("() => location.href"))

    def shows(self, selector: str, pattern: str, within: float = 20) -> None:
        """Wait until an element's text fits; `within` in seconds."""
        fault = self.call(SHOWS, selector, pattern, within * 1000)
        assert not fault, fault

    def comes_to(self, selector: str, pattern: str, within: float) -> None:
        """The same over pages that lead on: what waits in a page that is left would never be answered."""
        until = time.monotonic() + within
        while not re.search(pattern, text := self.call(TEXT, selector)):
            assert time.monotonic() < until, f"{selector} shows {text!r}, not {pattern}"
            time.sleep(0.2)

    def agrees(self, condition: str, argument: str, within: float) -> None:
        """Wait until a function of the page says yes, for longer than an answer may take; `within` in seconds."""
        until = time.monotonic() + within
        while not self.call(condition, argument):
            assert time.monotonic() < until, condition
            time.sleep(0.2)


class Firefox(OtherBrowser):
    """Firefox by WebDriver BiDi (W3C), with a finger."""

    def __init__(self, address: str) -> None:
        self._socket = websocket.create_connection(f"{address}/session", timeout=ANSWER, suppress_origin=True)
        self._number = 0
        self._ask("session.new", capabilities={})
        self._context = self._ask("browsingContext.getTree")["contexts"][0]["context"]

    def _ask(self, method: str, **params: Any) -> Any:
        self._number += 1
        self._socket.send(json.dumps({"id": self._number, "method": method, "params": params}))
        while True:
            answer = json.loads(self._socket.recv())
            if answer.get("id") == self._number:
                assert answer["type"] == "success", answer
                return answer["result"]

    def goto(self, address: str) -> None:
        # Left on its way, a page hides from the driver that the next one has begun, which is then never done.
        self.call(LOADED)
        self._ask("browsingContext.navigate", context=self._context, url=address, wait="complete")

    def call(self, function: str, *arguments: str | float) -> Any:
        given = [{"type": "string" if isinstance(one, str) else "number", "value": one} for one in arguments]
        answer = self._ask(
            "script.callFunction",
            functionDeclaration=function,
            arguments=given,
            target={"context": self._context},
            awaitPromise=True,
        )
        assert answer["type"] == "success", answer
        return answer["result"].get("value")

    def tap(self, selector: str) -> None:
        middle = "(selector) => { const box = document.querySelector(selector).getBoundingClientRect();"
        x, y = json.loads(
            self.call(middle + "return JSON.stringify([box.x + box.width / 2, box.y + box.height / 2]) }", selector)
        )
        steps = [{"type": "pointerMove", "x": round(x), "y": round(y)}, {"type": "pointerDown", "button": 0}]
        finger = {"type": "pointer", "id": "finger", "parameters": {"pointerType": "touch"}}
        actions = [{**finger, "actions": [*steps, {"type": "pointerUp", "button": 0}]}]
        self._ask("input.performActions", context=self._context, actions=actions)

    def close(self) -> None:
        """Take leave."""
        self._socket.close()


class WebKit(OtherBrowser):
    """WebKitGTK by WebDriver (W3C), with a mouse: its driver knows no finger."""

    def __init__(self, address: str) -> None:
        self._address = address
        browser = {"binary": str(MINI_BROWSER), "args": ["--automation"]}
        wanted = {"alwaysMatch": {"webkitgtk:browserOptions": browser, "timeouts": {"script": ANSWER * 1000}}}
        self._address += f"/session/{self._ask('/session', capabilities=wanted)['sessionId']}"

    def _ask(self, path: str, **body: Any) -> Any:
        request = Request(self._address + path, json.dumps(body).encode(), {"Content-Type": "application/json"})
        with urlopen(request, timeout=ANSWER) as answer:
            return json.load(answer)["value"]

    def goto(self, address: str) -> None:
        self._ask("/url", url=address)

    def call(self, function: str, *arguments: str | float) -> Any:
        code = f"const tell = arguments[arguments.length - 1]; Promise.resolve(({function})(...arguments)).then(tell)"
        return self._ask("/execute/async", script=code, args=arguments)

    def tap(self, selector: str) -> None:
        [found] = self._ask("/element", using="css selector", value=selector).values()
        self._ask(f"/element/{found}/click")


class WebKitOnDisk(OtherBrowser):
    """WebKitGTK as everybody starts it, by its remote inspector: one that a driver starts keeps nothing."""

    def __init__(self, address: str) -> None:
        self._socket = websocket.create_connection(address, timeout=ANSWER, suppress_origin=True)
        self._target = json.loads(self._socket.recv())["params"]["targetInfo"]["targetId"]
        self._number = 0

    def _ask(self, method: str, **params: Any) -> Any:
        self._number += 1
        message = {"id": self._number, "method": method, "params": params}
        to_page = {"targetId": self._target, "message": json.dumps(message)}
        # A number for what carries the message, too; its answer says only that it was carried.
        self._socket.send(json.dumps({"id": -self._number, "method": "Target.sendMessageToTarget", "params": to_page}))
        while True:
            told = json.loads(self._socket.recv())
            answer = json.loads(told.get("params", {}).get("message", "{}"))
            if answer.get("id") == self._number:
                assert not answer["result"]["wasThrown"], answer
                return answer["result"]["result"]

    def goto(self, address: str) -> None:
        self.call("(address) => { location.href = address }", address)

    def call(self, function: str, *arguments: str | float) -> Any:
        promise = self._ask("Runtime.evaluate", expression=f"Promise.resolve(({function})(...{json.dumps(arguments)}))")
        return self._ask("Runtime.awaitPromise", promiseObjectId=promise["objectId"], returnByValue=True).get("value")

    def tap(self, selector: str) -> None:
        self.call("(selector) => document.querySelector(selector).click()", selector)

    def close(self) -> None:
        """Take leave."""
        self._socket.close()


@contextmanager
def firefox(folder: Path) -> Iterator[OtherBrowser]:
    """Firefox with its profile in the folder, a fresh one the first time, and what it downloads below that."""
    assert FIREFOX
    wanted = {**QUIET, **BARE, "browser.download.folderList": 2, "browser.download.dir": str(folder / DOWNLOADS)}
    lines = (f"user_pref({json.dumps(name)}, {json.dumps(value)});" for name, value in wanted.items())
    (folder / "user.js").write_text("\n".join(lines))
    command = [FIREFOX, "--headless", "--no-remote", "--remote-debugging-port", "0", "--profile", str(folder)]
    with _running(command, stderr=subprocess.PIPE) as process:
        assert process.stderr
        line = _first(process.stderr, "WebDriver BiDi listening on ")
        window = Firefox(line.rpartition(" ")[2])
        try:
            yield window
        finally:
            with suppress(OSError, websocket.WebSocketException):
                window.close()


@contextmanager
def webkit(folder: Path) -> Iterator[OtherBrowser]:
    """WebKit with nothing kept from before."""
    assert WEBKIT_DRIVER
    port = _free_port()
    with _screen(folder) as environment, _running([WEBKIT_DRIVER, f"--port={port}"], env=environment):
        _answers(port)
        yield WebKit(f"http://127.0.0.1:{port}")


@contextmanager
def webkit_on_disk(folder: Path, address: str) -> Iterator[OtherBrowser]:
    """WebKit at a page, with what it kept in the folder before."""
    port = _free_port()
    inspector = {"WEBKIT_INSPECTOR_HTTP_SERVER": f"127.0.0.1:{port}"}
    with (
        _screen(folder) as environment,
        _running([str(MINI_BROWSER), address], env=environment | inspector, stderr=subprocess.DEVNULL),
    ):
        _answers(port)
        with closing(WebKitOnDisk(_inspected(f"127.0.0.1:{port}", address))) as window:
            yield window


@contextmanager
def _screen(folder: Path) -> Iterator[dict[str, str]]:
    """The environment of a program on a screen that nobody sees, at home in a folder."""
    assert SCREEN
    with _running([SCREEN, "-displayfd", "1", "-nolisten", "tcp"], stdout=subprocess.PIPE) as screen:
        assert screen.stdout
        homes = {name: str(folder) for name in ("HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME", "XDG_RUNTIME_DIR")}
        yield {**os.environ, **homes, **SPARING, "DISPLAY": f":{_first(screen.stdout, '')}"}


def _free_port() -> int:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return int(taken.getsockname()[1])


def _answers(port: int) -> None:
    """Wait until somebody listens there."""
    until = time.monotonic() + ANSWER
    while True:
        try:
            socket.create_connection(("127.0.0.1", port), timeout=ANSWER).close()
        except ConnectionRefusedError:
            assert time.monotonic() < until, "the driver of WebKit did not begin to listen"
            time.sleep(0.05)
        else:
            return


def _inspected(inspector: str, page: str) -> str:
    """Where a page can be asked, once the inspector lists it."""
    until = time.monotonic() + ANSWER
    while True:
        with urlopen(f"http://{inspector}/", timeout=ANSWER) as answer:
            listed = answer.read().decode()
        if (found := re.search(r"/socket/\d+/\d+/WebPage", listed)) and page in listed:
            return f"ws://{inspector}{found[0]}"
        assert time.monotonic() < until, f"WebKit did not open {page}"
        time.sleep(0.1)


@contextmanager
def _running(command: list[str], **how: Any) -> Iterator[subprocess.Popen[str]]:
    """A process with all that it starts, ended with the block, or when the block takes too long."""
    with (
        subprocess.Popen(command, text=True, start_new_session=True, **how) as process,
        _killed_after(JOURNEYS, process.pid),
    ):
        yield process


@contextmanager
def _killed_after(seconds: float, group: int) -> Iterator[None]:
    """Kill a group of processes at the end of the block, or when the time is over."""

    def kill() -> None:
        with suppress(ProcessLookupError):
            os.killpg(group, signal.SIGKILL)

    timer = threading.Timer(seconds, kill)
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        kill()


def _first(lines: IO[str], words: str) -> str:
    """The first line with these words."""
    for line in lines:
        if words in line:
            return line.strip()
    raise AssertionError("the browser ended before it was ready")
