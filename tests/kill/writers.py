"""Trainers who sign off over HTTP as fast as they can, and send a form again until it is answered,
as a person does whose phone lost the signal."""

from __future__ import annotations

import http.client
import re
import threading
import time
import uuid
from dataclasses import dataclass, field
from urllib.parse import urlencode

from tests.kill.served_house import PASSWORD

PATIENCE_S = 60
"""How long one form is sent again before the test gives up."""


@dataclass
class Answer:
    status: int
    location: str
    body: str


@dataclass
class Writer(threading.Thread):
    """One trainer with a browser of their own, watching one drink of one hire over and over.

    `first` numbers their builds, in the field for the seconds taken: no two writers share one.
    """

    sign_in: str
    port: int
    slug: str
    hire: str
    drink: str
    first: int
    cookies: dict[str, str] = field(default_factory=dict)
    acknowledged: dict[int, str] = field(default_factory=dict)
    signed: list[str] = field(default_factory=list)
    cut_off: int = 0
    sent_again_at: dict[str, float] = field(default_factory=dict)
    waited: list[float] = field(default_factory=list)
    fault: BaseException | None = None

    def __post_init__(self) -> None:
        super().__init__(daemon=True)
        self.enough = threading.Event()

    def __hash__(self) -> int:
        return id(self)

    def come_in(self) -> None:
        self.ask("GET", "/sign-in/")
        answer = self.send("/sign-in/", {"sign_in": self.sign_in, "password": PASSWORD})
        assert answer.status == 302, answer.body

    def run(self) -> None:
        try:
            self.sign_off_until_enough()
        except BaseException as fault:  # noqa: BLE001  (the test raises it)
            self.fault = fault

    def sign_off_until_enough(self) -> None:
        page = f"/h/{self.slug}/watch/{self.hire}/{self.drink}/"
        checklist = self.ask("GET", page)
        assert checklist.status == 200, (checklist.status, checklist.body)
        [build] = re.findall(r'name="build" value="([^"]+)"', checklist.body)
        number = self.first
        while not self.enough.is_set():
            self.sign_off_one(page, build, number)
            number += 1

    def sign_off_one(self, page: str, build: str, number: int) -> None:
        form = {
            "build": build, "seconds": str(number), "help_level": "unprompted",
            "made_with": "stock",
        }  # fmt: skip
        watched = self.send(page, form)
        assert watched.status == 302, (watched.status, watched.body)
        code = watched.location.rstrip("/").rsplit("/", 1)[1]
        self.acknowledged[number] = code
        begun = time.monotonic()
        signed = self.send(f"{watched.location}sign-off/", {})
        assert signed.status == 302, (signed.status, signed.body)
        self.signed.append(code)
        self.waited.append(time.monotonic() - begun)

    def send(self, path: str, form: dict[str, str]) -> Answer:
        """A form with a key of its own, again and again with the same key until it is answered."""
        token = {"csrfmiddlewaretoken": self.cookies["barcourse_csrf"]}
        return self.ask("POST", path, {**token, "form_key": str(uuid.uuid4()), **form})

    def ask(self, method: str, path: str, form: dict[str, str] | None = None) -> Answer:
        give_up = time.monotonic() + PATIENCE_S
        while True:
            try:
                return self.ask_once(method, path, form)
            except ConnectionRefusedError:  # nobody is there just now
                pass
            except (OSError, http.client.HTTPException):
                self.cut_off += 1
                if form:
                    self.sent_again_at[form.get("seconds", "")] = time.time()
            assert time.monotonic() < give_up, f"no answer to {method} {path}"
            time.sleep(0.01)

    def ask_once(self, method: str, path: str, form: dict[str, str] | None) -> Answer:
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        headers = {"Cookie": "; ".join(f"{k}={v}" for k, v in self.cookies.items())}
        if form is not None:
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        try:
            line.request(method, path, urlencode(form or {}), headers)
            response = line.getresponse()
            body = response.read().decode()
        finally:
            line.close()
        for cookie in response.headers.get_all("Set-Cookie") or ():
            name, _, value = cookie.split(";", 1)[0].partition("=")
            self.cookies[name] = value
        return Answer(response.status, response.headers.get("Location", ""), body)
