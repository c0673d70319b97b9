#!/usr/bin/env python
"""Takes the README's pictures anew, from a demo house of its own, into docs/screenshots.

Each picture is one function: who looks, at what size, and the clicks that lead there.
"""

import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

ROOT = Path(__file__).resolve().parent.parent
PICTURES = ROOT / "docs" / "screenshots"
PHONE, DESKTOP = (390, 844), (1280, 800)
COLOURS = 128
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip

sys.path.insert(0, str(ROOT))
from barcourse.demo.house import PASSWORD, SLUG  # noqa: E402

HOUSE = f"/h/{SLUG}"


def next_shift(page: Page) -> None:
    page.goto(f"{HOUSE}/shift/")


def card(page: Page) -> None:
    page.goto(f"{HOUSE}/cards/")
    page.locator("details.card summary").click()


def module(page: Page) -> None:
    page.goto(f"{HOUSE}/modules/")
    page.locator("main ul.lines a").first.click()


def quiz(page: Page) -> None:
    module(page)
    page.locator("form[action*='/quiz/'] button").click()


def watch(page: Page) -> None:
    page.goto(f"{HOUSE}/watch/")
    page.get_by_role("link", name="Prove next").last.click()


def who_is_ready(page: Page) -> None:
    page.goto(f"{HOUSE}/ready/")


SHOTS: list[tuple[str, tuple[int, int], Callable[[Page], None]]] = [
    ("tomasz", PHONE, next_shift),
    ("tomasz", PHONE, card),
    ("tomasz", PHONE, quiz),
    ("tamsin", PHONE, watch),
    ("marek", DESKTOP, who_is_ready),
]


@contextmanager
def demo_site() -> Iterator[str]:
    """The address of a freshly seeded demo house, served until the pictures are taken."""
    with tempfile.TemporaryDirectory() as folder, socket.create_server(("127.0.0.1", 0)) as door:
        port = door.getsockname()[1]
        door.close()
        address = f"http://127.0.0.1:{port}"
        own = {
            "BARCOURSE_DEMO": "1",
            "BARCOURSE_BASE_URL": address,
            "DATABASE_URL": f"sqlite:///{folder}/pictures.sqlite3",
        }
        env = {**os.environ, **own}
        for command in (["migrate", "--verbosity", "0"], ["seed_demo"]):
            subprocess.run([sys.executable, "manage.py", *command], cwd=ROOT, env=env, check=True)
        served = [sys.executable, "-m", "gunicorn", "barcourse.wsgi", "--bind", f"127.0.0.1:{port}"]
        options = ["--no-control-socket", "--log-level", "warning"]
        server = subprocess.Popen([*served, *options], cwd=ROOT, env=env)
        try:
            wait_for(address)
            yield address
        finally:
            server.terminate()
            server.wait()


def wait_for(address: str) -> None:
    for _ in range(100):
        try:
            with urllib.request.urlopen(f"{address}/sign-in/"):  # noqa: S310 - our own loopback
                return
        except OSError:
            time.sleep(0.1)
    sys.exit("the demo house did not open")


def take(browser: Browser, address: str, who: str, size: tuple[int, int], shot: Callable) -> None:
    width, height = size
    context = browser.new_context(base_url=address, viewport={"width": width, "height": height})
    page = context.new_page()
    page.goto("/sign-in/")
    page.locator("input[name=sign_in]").fill(who)
    page.locator("input[name=password]").fill(PASSWORD)
    page.locator("main form button").first.click()
    page.wait_for_url("**/h/**")
    shot(page)
    page.wait_for_load_state("networkidle")
    if page.locator("h1").count() != 1:
        sys.exit(f"{shot.__name__}: {page.url} is no page of ours")
    keep(page.screenshot(), PICTURES / f"{shot.__name__.replace('_', '-')}.png")
    context.close()


def keep(picture: bytes, path: Path) -> None:
    """As a PNG of few colours: a quarter of the bytes, and the eye sees no difference."""
    few = Image.open(BytesIO(picture)).convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
    few.save(path, optimize=True)


def main() -> None:
    program = next(filter(None, map(shutil.which, ("chromium", "google-chrome"))), None)
    if program is None:
        sys.exit("Taking pictures needs Chromium: apt-get install chromium")
    with demo_site() as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=FLAGS)
        PICTURES.mkdir(parents=True, exist_ok=True)
        for who, size, shot in SHOTS:
            take(browser, address, who, size, shot)
        browser.close()
    print(f"{len(SHOTS)} pictures in {PICTURES.relative_to(ROOT)}")


if __name__ == "__main__":
    main()
