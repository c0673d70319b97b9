"""A house of its own, served by gunicorn as in a bar, that can be killed and opened again.

A program of its own: `DATABASE_URL=... python -m tests.kill.served_house PORT`. It migrates the
database, opens a house with four trainers and two hires, loads everything once and then does what
is said on its standard input, a word a line, answering each with a line of JSON:

    open     the server starts: a gunicorn of four workers, all in a process group of its own
    kill     SIGKILL to the whole group, and wait until none of it is left
    report   what stands in the database, and what the check of the log finds

Loading once makes opening quick: each server is a fork of this program, which itself holds no
connection to the database at that moment.
"""

from __future__ import annotations

import ctypes
import datetime as dt
import json
import os
import signal
import sys
from collections.abc import Callable
from typing import Any

TRAINERS = ("tamsin", "pia", "bo", "ines")
HIRES = ("nils", "edda")
PASSWORD = "under-the-pier-at-six"
SLUG = "harbour-lights"


def prepare() -> dict[str, Any]:
    """An empty database made into the house. Tells what a writer needs to know."""
    os.environ |= {
        "BARCOURSE_DEMO": "1",
        "BARCOURSE_LOG_LEVEL": "ERROR",
        "DJANGO_SETTINGS_MODULE": "barcourse.settings",
    }
    import django
    from django.conf import settings
    from django.core.management import call_command

    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]  # quick
    django.setup()
    call_command("migrate", verbosity=0)
    return open_house()


def open_house() -> dict[str, Any]:
    from barcourse.people import enrol
    from barcourse.people.roles import Role

    at = dt.datetime.now(dt.UTC)
    owner = enrol.open_house(
        name="Harbour Lights", owner_name="Odalys", sign_in="odalys", password=PASSWORD,
        country="us", timezone="UTC", at=at,
    )  # fmt: skip
    roles = dict.fromkeys(TRAINERS, Role.TRAINER) | dict.fromkeys(HIRES, Role.TRAINEE)
    codes = {}
    for name, role in roles.items():
        [(_, token)] = enrol.invite(by=owner, names=[(name.title(), role)], at=at)
        codes[name] = enrol.join(token=token, sign_in=name, password=PASSWORD, at=at).code
    return {"slug": owner.venue.slug, "hires": [codes[name] for name in HIRES]}


def look_once_at_a_page() -> None:
    """So that what is loaded at the first request is loaded before the first fork."""
    from django.test import Client

    from barcourse.people.models import Membership

    browser = Client(headers={"host": "127.0.0.1"})
    browser.force_login(Membership.objects.get(person__sign_in=TRAINERS[0]).person)
    hire = Membership.objects.get(person__sign_in=HIRES[0])
    answered = browser.get(f"/h/{SLUG}/watch/{hire.code}/madras/")
    assert answered.status_code == 200, answered.status_code


def adopt_orphans() -> None:
    """Workers whose master is killed become children of this program, which can wait for them."""
    if sys.platform == "linux":
        set_child_subreaper = 36
        ctypes.CDLL(None).prctl(set_child_subreaper, 1, 0, 0, 0)


class Server:
    def __init__(self, port: int) -> None:
        from django.db import connections

        from barcourse import wsgi  # loads every page; checks as a server does

        assert wsgi.application
        self.port, self.pid = port, 0
        look_once_at_a_page()
        connections.close_all()

    def open(self) -> dict[str, Any]:
        from django.db import connections

        connections.close_all()
        self.pid = os.fork()
        if not self.pid:
            os.setpgid(0, 0)
            os.dup2(os.open(os.devnull, os.O_RDWR), 0)
            os.dup2(2, 1)
            self._serve()
        try:  # noqa: SIM105  (whoever is first; both say the same)
            os.setpgid(self.pid, self.pid)
        except PermissionError:
            pass
        return {"pid": self.pid}

    def _serve(self) -> None:
        from gunicorn.app.wsgiapp import run

        sys.argv = [
            "gunicorn", "barcourse.wsgi", "--preload", "--workers", "4",
            "--bind", f"127.0.0.1:{self.port}", "--log-level", "critical", "--no-control-socket",
        ]  # fmt: skip
        run()
        os._exit(0)

    def kill(self) -> dict[str, Any]:
        os.killpg(self.pid, signal.SIGKILL)
        gone = 0
        try:
            while True:
                os.waitpid(-1, 0)
                gone += 1
        except ChildProcessError:
            return {"processes": gone}


def report() -> dict[str, Any]:
    from django.db import connection

    from assessments.models import SignOff, WatchedBuild
    from barcourse.people import log
    from barcourse.people.models import LogEntry, Venue
    from barcourse.people.wording import say

    venue = Venue.objects.get()
    sound = "ok"
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA integrity_check")
            [sound] = cursor.fetchone()
    told = {
        "builds": [[b.code, b.seconds, b.at.timestamp()] for b in WatchedBuild.objects.all()],
        "signed": [s.watched.code for s in SignOff.objects.select_related("watched")],
        "entries": list(LogEntry.objects.values_list("kind", flat=True)),
        "head": str(log.head(venue)),
        "findings": [say(reason) for reason in log.check(venue)],
        "sound": sound,
        "database": connection.vendor,
    }
    connection.close()
    return told


def main(port: int) -> None:
    answer(prepare())
    adopt_orphans()
    server = Server(port)
    doing: dict[str, Callable[[], dict[str, Any]]] = {
        "open": server.open, "kill": server.kill, "report": report,
    }  # fmt: skip
    for line in sys.stdin:
        answer(doing[line.strip()]())


def answer(said: dict[str, Any]) -> None:
    sys.stdout.write(json.dumps(said) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main(int(sys.argv[1]))
