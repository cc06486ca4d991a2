"""Chromium, on phones of different sizes, watched for what nobody would see."""

from __future__ import annotations

import os
import re
import shutil
import signal
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Playwright, WebError

PUT_OUT_BY_PLAYWRIGHT = (
    "AimEnabled,AvoidCorsURLLoaderRestartOnRedirect,AvoidUnnecessaryBeforeUnloadCheckSync,"
    "DestroyProfileOnBrowserClose,HttpsFirstBalancedModeAutoEnable,HttpsUpgrades,LensOverlay,MediaRouter,"
    "NetworkTimeServiceQuerying,OptimizationHints,PaintHolding,PreconnectToSearch,TcpPortRandomizationWin,"
    "ThirdPartyStoragePartitioning"
)
"""Chromium obeys the last list of features to do without, so that ours has to say Playwright's again."""

ADDRESS_BAR = "WebUIOmniboxPopup,WebUIOmniboxAimPopup,WebUIOmniboxFullPopup"
"""The lists that fold out below the address bar: two pages for every window, as costly as the one under test."""

FRAME_FOR_EACH_PAGE = "RenderDocument"
"""A new frame in the process for every page of the same origin: a third of the time that a small page takes."""

ARGUMENTS = [
    f"--disable-features={PUT_OUT_BY_PLAYWRIGHT},{ADDRESS_BAR},{FRAME_FOR_EACH_PAGE}",
    "--no-sandbox",  # as root, as in a container, there is no other way
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

COMPILED_ONCE = "--js-flags=--liftoff-only"
"""Has WebAssembly compiled once, as it comes: to do it again, and better, takes longer than all that is asked of it."""

PATIENCE = 60_000
"""Milliseconds: a busy computer may take long over what a phone does at once."""

UNREACHED = "Failed to load resource"
"""How the console's message begins when an answer does not come or refuses. Wanted where a network is cut."""

REFUSED = rf"{UNREACHED}: the server responded with a status of (\d+)"


def executable() -> str:
    """Where Chromium is."""
    found = shutil.which("chromium")
    assert found, "these tests need Chromium; tests/run installs it"
    return found


def engine_alone() -> str:
    """The same engine without all that is round a page, where it is installed: begun in a third of the time.

    What the browser itself does, such as install a page, wants the whole one.
    """
    return shutil.which("chromium-headless-shell") or executable()


def launched(playwright: Playwright) -> Browser:
    """A browser without windows, that forgets each context."""
    return playwright.chromium.launch(executable_path=executable(), args=ARGUMENTS)


def engine(playwright: Playwright, *more: str) -> Browser:
    """The engine alone, which also has pages done in three quarters of the time. `more` are arguments."""
    return playwright.chromium.launch(executable_path=engine_alone(), args=[*ARGUMENTS, COMPILED_ONCE, *more])


def phone(width: int = 412, height: int = 915) -> dict[str, Any]:
    """What makes a context a phone: a small screen under a finger. Sizes in CSS px."""
    screen = {"width": width, "height": height}
    return {"viewport": screen, "screen": screen, "device_scale_factor": 2, "is_mobile": True, "has_touch": True}


@dataclass
class Watch:
    """What went wrong in a context. `refusals` are the statuses of 400 and more that were answered.

    All of it is heard from the console. To be told of each request as well takes a sixth of the time of a page.
    """

    problems: list[str] = field(default_factory=list)
    refusals: set[int] = field(default_factory=set)

    def follow(self, context: BrowserContext) -> None:
        """Watch every page of a context from now on."""
        context.on("console", self._console)
        context.on("weberror", self._web_error)

    def _console(self, message: ConsoleMessage) -> None:
        if refused := re.match(REFUSED, message.text):
            self.refusals.add(int(refused[1]))
        elif message.type in {"error", "warning"} and not message.text.startswith(UNREACHED):
            self.problems.append(f"{message.type}: {message.text}")

    def _web_error(self, error: WebError) -> None:
        self.problems.append(f"uncaught: {error.error.message}")


class PhoneOnDisk:
    """A browser with a folder of its own: what it keeps outlives the process. `whole`: not its engine alone."""

    def __init__(self, playwright: Playwright, folder: Path, origin: str, *, whole: bool = False) -> None:
        self._playwright = playwright
        self._executable = executable() if whole else engine_alone()
        self._folder = folder
        self._origin = origin

    def start(self) -> BrowserContext:
        """Start the browser on what is in the folder."""
        context = self._playwright.chromium.launch_persistent_context(
            self._folder, executable_path=self._executable, args=ARGUMENTS, base_url=self._origin, **phone()
        )
        context.set_default_timeout(PATIENCE)
        assert context.browser
        processes = context.browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
        [browser] = [process["id"] for process in processes if process["type"] == "browser"]
        self._group = os.getpgid(browser)
        return context

    def kill(self) -> None:
        """End the browser with all its processes at once, as a phone does whose battery has run out.

        Playwright starts it in a process group of its own.
        """
        os.killpg(self._group, signal.SIGKILL)
