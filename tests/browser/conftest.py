"""A real Chromium at two sizes, on the site as it is served, with its complaints kept."""

import os
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.db import connection
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Error,
    Locator,
    Page,
    expect,
    sync_playwright,
)

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PATIENCE_MS = 20_000
"""Three browsers share two cores: what is looked for may come late, and must come all the same."""
SLOWER = os.environ.get("BARCOURSE_SLOWER", "")
"""How many times slower than this machine the phone shall be: `BARCOURSE_SLOWER=6` finds races."""
SIZES = {
    "phone": (390, 844), "desktop": (1280, 800), "narrowest": (320, 640), "small_phone": (360, 740),
}  # fmt: skip


@pytest.fixture(autouse=True, scope="session")
def _database_beside_playwright() -> Iterator[None]:
    """Playwright's loop makes Django take these tests for asynchronous; they aren't."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(os.environ, "DJANGO_ALLOW_ASYNC_UNSAFE", "true")
        yield


@pytest.fixture(autouse=True, scope="session")
def _no_write_waits_for_the_disk() -> Iterator[None]:
    """Nobody mourns the tests' file after a power cut. That a house's own writes do wait is proven
    without a browser."""
    options = connection.settings_dict["OPTIONS"]
    with pytest.MonkeyPatch.context() as patch:
        if connection.vendor == "sqlite":
            command = options["init_command"].replace("synchronous = FULL", "synchronous = OFF")
            patch.setitem(options, "init_command", command)
        yield


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    names = ("chromium", "chromium-browser", "google-chrome")
    program = next(filter(None, map(shutil.which, names)), None)
    if program is None:
        pytest.skip("no Chromium on this machine: the browser journey was not made")
    expect.set_options(timeout=PATIENCE_MS)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def site(live_server: Any, settings: Any) -> str:
    """The address of the served site, which links and QR codes carry too."""
    settings.BASE_URL = live_server.url
    return live_server.url


@dataclass
class Visit:
    """One person's browser: a page, and whatever the browser complained of."""

    page: Page
    complaints: list[str] = field(default_factory=list)

    def listen(self) -> "Visit":
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("console", self._console)
        return self

    def _console(self, message: ConsoleMessage) -> None:
        # A refused page (404, 409) is the journey's own doing; a refused script is a fault.
        if message.type == "error" and "the server responded with a status" not in message.text:
            self.complaints.append(message.text)

    def follow(self, way: Locator) -> None:
        """Tap what leads to another page and wait for it: a tap alone is over before it comes."""
        with self.page.expect_navigation():
            way.click()

    def check(self) -> None:
        """The page is accessible (axe-core) and no wider than its window. Where the page left
        while it was looked at, the one that came is looked at instead."""
        try:
            self._check()
        except Error:
            self.page.wait_for_load_state()
            self._check()

    def _check(self) -> None:
        found = Axe().run(self.page).response["violations"]
        assert [f"{rule['id']}: {node['html']}" for rule in found for node in rule["nodes"]] == []
        assert self.page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0


@pytest.fixture
def open_browser(chromium: Browser, site: str) -> Iterator[Callable[..., Visit]]:
    """`open_browser("phone")` is a fresh browser of that size. Complaints fail the test."""
    contexts: list[BrowserContext] = []
    visits: list[Visit] = []

    def opened(size: str = "phone", **options: Any) -> Visit:
        width, height = SIZES[size]
        context = chromium.new_context(
            base_url=site, viewport={"width": width, "height": height}, **options
        )
        contexts.append(context)
        page = context.new_page()
        if SLOWER:
            slow = {"rate": float(SLOWER)}
            context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", slow)
        visits.append(Visit(page).listen())
        return visits[-1]

    yield opened
    for context in contexts:
        context.close()
    assert [complaint for visit in visits for complaint in visit.complaints] == []
