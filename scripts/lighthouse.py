#!/usr/bin/env python
"""Lighthouse, mobile preset, on what a hire opens most: Next shift, a card and a quiz item, each
signed in, in a freshly seeded demo house. Fails under LEAST. Needs Chromium and Node with npx.
"""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright
from screenshots import FLAGS, card, demo_site, next_shift, quiz

from barcourse.demo.house import PASSWORD

LIGHTHOUSE = "lighthouse@12.2.3"
"""Newer ones want a newer Node."""
LEAST = 95
CATEGORIES = ("performance", "accessibility", "best-practices")
HIRE = "tomasz"
PAGES: tuple[Callable[[Page], None], ...] = (next_shift, card, quiz)


def signed_in(browser: Browser, address: str) -> tuple[str, list[str]]:
    """A hire's cookies as a header, and the address of each page."""
    page = browser.new_context(base_url=address).new_page()
    page.goto("/sign-in/")
    page.locator("input[name=sign_in]").fill(HIRE)
    page.locator("input[name=password]").fill(PASSWORD)
    page.locator("main form button").first.click()
    page.wait_for_url("**/h/**")
    found = []
    for opened in PAGES:
        opened(page)
        page.wait_for_load_state("networkidle")
        found.append(page.url)
    cookies = "; ".join(f"{c.get('name')}={c.get('value')}" for c in page.context.cookies())
    return cookies, found


def scores(url: str, cookies: str, program: str) -> dict[str, float]:
    """Of a hundred, by category; one run, with the mobile preset that is the tool's own."""
    with tempfile.TemporaryDirectory() as folder:
        headers, out = Path(folder) / "headers.json", Path(folder) / "report.json"
        headers.write_text(json.dumps({"Cookie": cookies}))
        command = [
            "npx", "--yes", LIGHTHOUSE, url, "--quiet", "--output=json", f"--output-path={out}",
            f"--only-categories={','.join(CATEGORIES)}", f"--extra-headers={headers}",
            f"--chrome-flags=--headless=new {' '.join(FLAGS)}",
        ]  # fmt: skip
        subprocess.run(command, env={**os.environ, "CHROME_PATH": program}, check=True)
        report = json.loads(out.read_text())
    if report["finalDisplayedUrl"] != url:
        sys.exit(f"{url} led to {report['finalDisplayedUrl']}")
    return {name: 100 * report["categories"][name]["score"] for name in CATEGORIES}


def main() -> None:
    program = next(filter(None, map(shutil.which, ("chromium", "google-chrome"))), None)
    if program is None or shutil.which("npx") is None:
        sys.exit("Lighthouse needs Chromium and Node: apt-get install chromium npm")
    short = []
    with demo_site() as address:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=program, args=FLAGS)
            cookies, urls = signed_in(browser, address)
            browser.close()
        print(f"{'':<12}" + "".join(f"{name:>16}" for name in CATEGORIES))
        for opened, url in zip(PAGES, urls, strict=True):
            found = scores(url, cookies, program)
            print(f"{opened.__name__:<12}" + "".join(f"{found[n]:16.0f}" for n in CATEGORIES))
            short += [f"{opened.__name__} {n}" for n in CATEGORIES if found[n] < LEAST]
    if short:
        sys.exit(f"Under {LEAST}: {', '.join(short)}")


if __name__ == "__main__":
    main()
