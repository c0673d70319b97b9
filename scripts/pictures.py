"""Take the pictures of the README: a fresh demo house, a real Chromium, every page as it is.

`make pictures` runs this with the project's environment.
"""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

ROOT = Path(__file__).resolve().parent.parent
PICTURES = ROOT / "docs" / "pictures"
HOUSE = "/h/the-salt-lantern"
PASSWORD = "three limes and a straw"  # noqa: S105 - the demo house's, printed by make run
PHONE, DESK = (390, 780), (1180, 820)
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync"]  # fmt: skip

SHOTS: tuple[tuple[str, str, tuple[int, int], str], ...] = (
    # name of the picture, who is signed in, size, page
    ("next-shift", "noor", PHONE, f"{HOUSE}/shift/"),
    ("card", "noor", PHONE, f"{HOUSE}/cards/"),
    ("module", "noor", PHONE, f"{HOUSE}/modules/highballs/"),
    ("watch", "tamsin", PHONE, "watch"),
    ("who-is-ready", "marek", DESK, f"{HOUSE}/ready/"),
    ("house-book", "tamsin", DESK, f"{HOUSE}/book/drink/salty-dog/"),
    ("people", "odile", DESK, f"{HOUSE}/people/"),
    ("papers", "marek", DESK, f"{HOUSE}/papers/"),
)


def _manage(*words: str, env: dict[str, str]) -> None:
    subprocess.run([sys.executable, "manage.py", *words], cwd=ROOT, env=env, check=True)  # noqa: S603


@contextmanager
def demo_site() -> Iterator[str]:
    """The demo house on a free port, from a database that is thrown away."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    address = f"http://127.0.0.1:{port}"
    with tempfile.TemporaryDirectory() as folder:
        env = {**os.environ, "BARCOURSE_DEMO": "1", "BARCOURSE_BASE_URL": address,
               "DATABASE_URL": f"sqlite:///{folder}/pictures.sqlite3"}  # fmt: skip
        _manage("migrate", "--verbosity", "0", env=env)
        _manage("seed_demo", env=env)
        server = subprocess.Popen(  # noqa: S603
            [sys.executable, "-m", "gunicorn", "barcourse.wsgi", "--bind", f"127.0.0.1:{port}",
             "--log-level", "warning"],
            cwd=ROOT, env=env,
        )  # fmt: skip
        try:
            _wait_for(address)
            yield address
        finally:
            server.terminate()
            server.wait()


def _wait_for(address: str) -> None:
    for _ in range(100):
        try:
            urllib.request.urlopen(f"{address}/sign-in/")  # noqa: S310 - our own address
        except OSError:
            time.sleep(0.2)
        else:
            return
    raise SystemExit("The demo house did not open.")


def _signed_in(browser: Browser, address: str, who: str, size: tuple[int, int]) -> Page:
    context = browser.new_context(
        base_url=address, viewport={"width": size[0], "height": size[1]}, locale="en-US"
    )
    page = context.new_page()
    page.goto("/sign-in/")
    page.get_by_label("Sign-in").fill(who)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/h/**")
    return page


def _open(page: Page, name: str, path: str) -> None:
    if path != "watch":
        page.goto(path)
    if name == "card":
        page.locator("details.card summary").click()
    if path == "watch":
        page.goto(f"{HOUSE}/watch/")
        page.get_by_role("link", name="Tomasz").click()
        page.get_by_role("link", name="Salty Dog").click()
        page.locator(".step").nth(4).click()


def main() -> None:
    PICTURES.mkdir(parents=True, exist_ok=True)
    program = shutil.which("chromium")
    with demo_site() as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=FLAGS)
        for name, who, size, path in SHOTS:
            page = _signed_in(browser, address, who, size)
            _open(page, name, path)
            page.screenshot(path=PICTURES / f"{name}.png")
            page.context.close()
        browser.close()


if __name__ == "__main__":
    main()
