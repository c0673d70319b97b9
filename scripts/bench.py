#!/usr/bin/env python
"""How much our pages and our sealed rows cost, as ratios to a floor measured in the same run.

Milliseconds drift from machine to machine; the ratio tells whether the code got slower. Each pair
is measured in turns, so that a busy moment hits both, and the medians are compared.
"""

import dataclasses
import datetime as dt
import os
import statistics
import sys
import tempfile
import time
import types
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from bench_board import measure_board
from bench_calls import measure_calls
from bench_learning import pages_of_learning
from bench_memory import measure_recalls

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse
    from django.test import Client

    from barcourse.people.models import Membership
    from recipes.grammar.course import CourseDrink

ROOT = Path(__file__).resolve().parent.parent
TURNS = 100
FEW_TURNS = 10
"""For what takes a second or so."""
DRINKS = 500
Timed = Callable[[], None]
Clock = Callable[[], float]


def prepare(folder: str) -> None:
    """A database of its own in a folder that goes away; nobody's house is touched."""
    os.environ |= {
        "BARCOURSE_DEMO": "1",
        "BARCOURSE_LOG_LEVEL": "ERROR",
        "DATABASE_URL": f"sqlite:///{folder}/bench.sqlite3",
        "DJANGO_SETTINGS_MODULE": "barcourse.settings",
    }
    sys.path.insert(0, str(ROOT))
    import django
    from django.core.management import call_command

    django.setup()
    from django.conf import settings

    settings.ALLOWED_HOSTS = ["testserver"]
    call_command("migrate", verbosity=0)


def people() -> "tuple[Membership, Membership]":
    """An owner and a hire of a house with the shipped course."""
    from barcourse.people import enrol
    from barcourse.people.roles import Role

    now = dt.datetime.now(dt.UTC)
    secret = "only-for-this-run-of-the-bench"  # noqa: S105
    owner = enrol.open_house(
        name="Bench", owner_name="Owner", sign_in="owner", password=secret,
        country="us", timezone="UTC", at=now,
    )  # fmt: skip
    [(_, token)] = enrol.invite(by=owner, names=[("Hire", Role.TRAINEE)], at=now)
    return owner, enrol.join(token=token, sign_in="hire", password=secret, at=now)


def in_turns(
    floor: Timed, ours: Timed, turns: int = TURNS, clock: Clock = time.perf_counter
) -> tuple[float, float]:
    """Median seconds of each, after a warm-up that isn't counted. A page waits for nothing but the
    processor, so it is timed by `time.process_time`: a busy machine makes a long one wait more
    often than a short one."""
    times: tuple[list[float], list[float]] = ([], [])
    for turn in range(turns + 5):
        for taken, call in zip(times, (floor, ours), strict=True):
            begin = clock()
            call()
            if turn >= 5:
                taken.append(clock() - begin)
    return statistics.median(times[0]), statistics.median(times[1])


def report(what: str, floor: float, ours: float) -> None:
    print(f"{what:<44} {floor * 1e3:8.2f} ms {ours * 1e3:8.2f} ms {ours / floor:9.2f}")


def bare_view() -> "Callable[..., HttpResponse]":
    """The floor of a page: who is signed in, one indexed query, one small template."""
    from django.contrib.auth.decorators import login_required
    from django.http import HttpResponse
    from django.template import engines

    from barcourse.people.models import Membership

    template = engines["django"].from_string(
        "<!doctype html><title>{{ m.venue.name }}</title><h1>{{ m.person.name }}</h1>"
        "<p>{{ m.role }}</p>"
    )

    @login_required
    def bare(request: "HttpRequest") -> "HttpResponse":
        rows = Membership.objects.select_related("venue", "person")
        membership = rows.get(venue__slug="bench", person_id=request.user.pk)
        return HttpResponse(template.render({"m": membership}, request))

    return bare


def measure_pages(owner: "Membership", hire: "Membership") -> None:
    from django.test import Client, override_settings
    from django.urls import include, path, reverse

    urls = types.ModuleType("bench_urls")
    urls.__dict__["urlpatterns"] = [path("bare/", bare_view()), path("", include("barcourse.urls"))]
    sys.modules[urls.__name__] = urls
    pages = [
        *pages_of_learning(owner, hire),
        (hire, "my_record"), (owner, "watch"), (owner, "who_is_ready"), (owner, "people"),
    ]  # fmt: skip
    with override_settings(ROOT_URLCONF=urls.__name__):
        for member, name, *parts in pages:
            browser = Client()
            browser.force_login(member.person)
            address = reverse(name, args=["bench", *parts])
            floor, ours = opener(browser, "/bare/"), opener(browser, address)
            report(f"page {name}", *in_turns(floor, ours, clock=time.process_time))


def opener(browser: "Client", address: str) -> Timed:
    def opened() -> None:
        answer = browser.get(address)
        if answer.status_code != 200:
            sys.exit(f"{address} answered {answer.status_code}")

    return opened


def measure_sealed_rows(owner: "Membership") -> None:
    """A sealed log entry against a plain row of about its size: the work alone, then with the
    commit that puts each on the disk."""
    from django.db import transaction

    from barcourse.people import log

    def plain() -> None:
        log.keep_text(about=owner, text="a plain row about as long as an entry of the log")

    def sealed() -> None:
        log.append(venue=owner.venue, by=owner, kind="house_changed", facts={"name": ""})

    with transaction.atomic():
        report("sealed row", *in_turns(plain, sealed))
    report(
        "sealed row, committed",
        *in_turns(transaction.atomic(plain), transaction.atomic(sealed)),
    )


def measure_four_at_once(owner: "Membership", hire: "Membership") -> None:
    """Four trainers who each watch and sign off a build at the same moment, over and over, on
    connections of their own: how long a sign-off waits for the others."""
    import threading

    from django.db import connection

    waits: list[float] = []
    barrier = threading.Barrier(4)

    def trainer(number: int) -> None:
        sign_off = signing_off(joined(owner, f"trainer{number}"), hire)
        for _turn in range(TURNS // 4):
            barrier.wait()
            begin = time.perf_counter()
            sign_off()
            waits.append(time.perf_counter() - begin)
        connection.close()

    threads = [threading.Thread(target=trainer, args=(n,)) for n in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    waits.sort()
    half, most = waits[len(waits) // 2], waits[-1]
    print(f"four sign-offs at once: half within {half * 1e3:.0f} ms, all in {most * 1e3:.0f} ms")


def joined(owner: "Membership", name: str) -> "Membership":
    from barcourse.people import enrol
    from barcourse.people.roles import Role

    now = dt.datetime.now(dt.UTC)
    [(_, token)] = enrol.invite(by=owner, names=[(name, Role.TRAINER)], at=now)
    return enrol.join(token=token, sign_in=name, password="only-for-this-run-of-it", at=now)  # noqa: S106


def signing_off(trainer: "Membership", hire: "Membership") -> Timed:
    from assessments import record
    from assessments.measures.marking import HelpLevel
    from recipes.menu import menu_at

    menu = menu_at(trainer.venue, dt.datetime.now(dt.UTC))
    item = menu.by_slug["madras"]

    def signed() -> None:
        at = dt.datetime.now(dt.UTC)
        watched = record.watch_build(
            by=trainer, hire=hire, menu=menu, item=item, off=(),
            help_level=HelpLevel.UNPROMPTED, at=at,
        )  # fmt: skip
        record.sign_off(by=trainer, watched=watched, at=at)

    return signed


def many_drinks() -> "list[CourseDrink]":
    """The shipped drinks, over and over under new names, until there are DRINKS of them."""
    from recipes.shipped import shipped_course

    shipped = [drink for module in shipped_course().modules for drink in module.drinks]
    return [
        dataclasses.replace(drink, slug=f"{drink.slug}-{turn}")
        for turn in range(-(-DRINKS // len(shipped)))
        for drink in shipped
    ][:DRINKS]


def measure_drinks() -> None:
    """Every drink resolved under the house rules and drawn, nothing kept from the turn before,
    against a loop that only walks over them."""
    from recipes.grammar.drawing import draw
    from recipes.grammar.drink import make_drink
    from recipes.shipped import shipped_course, shipped_rules

    drinks, rules = many_drinks(), shipped_rules()
    pantry = {item.slug: item for item in shipped_course().ingredients}

    def walked() -> None:
        for drink in drinks:
            drink.spec.parts  # noqa: B018  # reading it is all that this does

    def resolved() -> None:
        for drink in drinks:
            make_drink(
                slug=drink.slug, name=drink.name, module="", spec=drink.spec, rules=rules,
                pantry=pantry,
            )  # fmt: skip

    def drawn() -> None:
        for drink in drinks:
            made = make_drink(
                slug=drink.slug, name=drink.name, module="", spec=drink.spec, rules=rules,
                pantry=pantry,
            )  # fmt: skip
            draw(made.spec, pantry, title=made.name, prefix=f"{made.slug}-")

    report(f"{DRINKS} drinks resolved", *in_turns(walked, resolved, FEW_TURNS))
    report(f"{DRINKS} drinks resolved and drawn", *in_turns(walked, drawn, FEW_TURNS))


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        prepare(folder)
        owner, hire = people()
        print(f"{'':<44} {'floor':>11} {'ours':>11} {'ratio':>9}")
        measure_pages(owner, hire)
        measure_sealed_rows(owner)
        measure_four_at_once(owner, hire)
        measure_drinks()
        measure_recalls(owner, report)
        measure_calls(many_drinks())
        measure_board()


if __name__ == "__main__":
    main()
