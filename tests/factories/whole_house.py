"""Two houses with everything in them that an address can lead to, made by the real verbs.

Harbour Lights is the one that is visited. The Anchor Room is strange to its people, save for Bo,
who owns the first and is being trained in the second.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any

import pytest
import time_machine
from django.db import transaction

from assessments import (
    record,
    record_hooks,
    record_practical,
    record_reading,
    record_sales,
    record_set,
    record_shift,
)
from assessments.measures.marking import RIGHT_DRINK, HelpLevel
from assessments.models import (
    Answered,
    CallRun,
    Drill,
    Override,
    PaceCheck,
    PourCheck,
    Quiz,
    QuizSheet,
    SalesMix,
    SpotMark,
    TryOut,
    WatchedBuild,
    WatchedRound,
)
from assessments.models.practical import Came
from assessments.record_taken_back import take_back_hand
from assessments.sales_reading import name_of
from barcourse.papers import issue
from barcourse.papers.models import Certificate
from barcourse.people import enrol, new_password, permits, refusals, shared_tablet, side_work
from barcourse.people.models import (
    Invitation,
    Membership,
    Permit,
    Refusal,
    SideDone,
    SideTask,
    Station,
    Tablet,
    Venue,
)
from barcourse.people.roles import Role
from recipes import shipped
from recipes.grammar.course import Course
from recipes.grammar.ingredients import Kind
from recipes.menu import menu_at
from recipes.models import Ingredient, Lesson, Module
from recipes.publish import publish_revision
from recipes.publish_ingredients import Stock, add_ingredient
from recipes.publish_off import say_bottle_out, say_drink_out
from tests.factories import people as make
from tests.factories.calls import practised
from tests.factories.entries import entries_answered
from tests.factories.hands import checked, open_watch, set_policy
from tests.factories.in_words import Words, in_words
from tests.factories.policies import policy_set
from tests.factories.recipes import small_course
from tests.factories.second_looks import left_behind, looked_at
from tests.factories.tills import take_in
from tests.papers import ready

SHOWN = make.OPENED + dt.timedelta(days=5)
NOW = make.OPENED + dt.timedelta(days=7)
"""12 March 2026, three in the afternoon in both houses."""
STATION = "beer-point"


@dataclass(frozen=True)
class Whole:
    """One house. `watched` is passed and waits for its sign-off; `quiz` is open, `done` is not;
    at `coming` a drink changes; at `works` the hire's next shift begins."""

    owner: Membership
    manager: Membership
    trainer: Membership
    hire: Membership
    fellow: Membership
    gone: Membership
    quiz: Quiz
    done: Quiz
    watched: WatchedBuild
    certificate: Certificate
    invitation: Invitation
    token: str
    password_token: str
    module: Module
    lesson: Lesson
    drink: str
    bottle: Ingredient
    coming: dt.datetime
    works: dt.datetime
    out: str
    pours: PourCheck
    pace: PaceCheck
    round: WatchedRound
    calls: CallRun
    called: CallRun
    wrong_drink: WatchedBuild
    sheet: QuizSheet
    drill: Drill
    try_out: TryOut
    tablet: Tablet
    refusal: Refusal
    permit: Permit
    side_task: SideTask
    side_done: SideDone
    sales: SalesMix
    answered: WatchedBuild
    left_open: WatchedBuild
    fresh: WatchedBuild
    twice: WatchedBuild
    once: Override
    spot: SpotMark
    said: Answered

    @property
    def venue(self) -> Venue:
        return self.owner.venue


@dataclass(frozen=True)
class Town:
    """`bo` owns `harbour` and is the hire of `anchor`."""

    harbour: Whole
    anchor: Whole
    bo: Membership


@contextmanager
def town(words: Words = str) -> Iterator[Town]:
    """Both houses, on the afternoon of NOW, gone at the end. The database must be open.

    `words` is given everything that a house types in, and says how it is stored.
    """
    with time_machine.travel(NOW, tick=False), transaction.atomic():
        yield _town(words)
        transaction.set_rollback(True)


@contextmanager
def undone() -> Iterator[None]:
    """Whatever is written inside is gone afterwards."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


def _town(words: Words) -> Town:
    course = in_words(small_course(), words)
    odalys = _open("Harbour Lights", "Odalys", course, words)
    hire = _hire(odalys, "Nils", words)
    harbour = _fill(odalys, hire, ("Marek", "Tamsin", "Wim", "Leif", "Ona"), words)
    bo = _hire(odalys, "Bo", words, Role.OWNER)
    ravna = _open("The Anchor Room", "Ravna", _renamed(course), words)
    trained = make.join_as(ravna, bo.person)
    anchor = _fill(ravna, trained, ("Hal", "Ida", "Jun", "Kai", "Lou"), words)
    return Town(harbour, anchor, bo)


def just_opened(words: Words) -> Membership:
    """The owner of a third house, in which nothing has happened yet."""
    return _open("The Long Quay", "Vera", in_words(small_course(), words), words)


def _hire(by: Membership, name: str, words: Words, role: str = Role.TRAINEE) -> Membership:
    _, token = make.invite(by, words(name), role)
    return enrol.join(token=token, sign_in=name.lower(), password=make.PASSWORD, at=make.OPENED)


def _open(name: str, owner: str, course: Course, words: Words) -> Membership:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(shipped, "shipped_course", lambda: course)
        patch.setattr(shipped, "shipped_rules", lambda preset="us-classic": course.rules)
        tasks = [
            {**task, **{name: words(task[name]) for name in ("text", "caution") if name in task}}
            for task in side_work.shipped_tasks()
        ]
        patch.setattr(side_work, "shipped_tasks", lambda: tasks)
        member = enrol.open_house(
            name=words(name), owner_name=words(owner), sign_in=owner.lower(),
            password=make.PASSWORD, country="us", timezone="Europe/Lisbon", at=make.OPENED,
        )  # fmt: skip
    for station in member.venue.stations.all():
        station.name = words(station.name)
        station.save(update_fields=["name"])
    return member


def _renamed(course: Course) -> Course:
    """The same under other addresses, so that a strange one is known by its address."""
    modules = tuple(
        replace(
            module,
            slug=f"anchor-{module.slug}",
            drinks=tuple(replace(d, slug=f"anchor-{d.slug}") for d in module.drinks),
            lessons=tuple(
                x.model_copy(
                    update={
                        "slug": f"anchor-{x.slug}",
                        "scenarios": tuple(
                            q.model_copy(update={"slug": f"anchor-{q.slug}"}) for q in x.scenarios
                        ),
                    }
                )
                for x in module.lessons
            ),
        )
        for module in course.modules
    )
    return replace(course, modules=modules)


def _fill(owner: Membership, hire: Membership, names: tuple[str, ...], words: Words) -> Whole:
    manager = _hire(owner, names[0], words, Role.MANAGER)
    trainer = _hire(owner, names[1], words, Role.TRAINER)
    gone = _hire(owner, names[3], words, Role.OWNER)
    fellow = _hire(owner, names[2], words)
    left = left_behind(gone, fellow, SHOWN - dt.timedelta(hours=1))
    open_watch(gone, fellow, NOW - dt.timedelta(hours=1))
    enrol.mark_left(by=owner, membership=gone, at=SHOWN)
    ready.make_ready(hire, trainer, at=SHOWN, builds_each=6)  # still ready two days later
    _slip(manager, trainer, hire, words)
    hands = checked(hire, trainer, SHOWN)
    set_policy(owner, at=SHOWN)
    coming = _publish_for_later(trainer)
    station = ready.station(owner, STATION)
    invitation, token = make.invite(owner, words(names[4]), at=SHOWN)
    lesson = Lesson.objects.select_related("module").get(venue=owner.venue)
    return Whole(
        owner=owner,
        manager=manager,
        trainer=trainer,
        hire=hire,
        fellow=fellow,
        gone=gone,
        certificate=issue.issue_certificate(by=manager, hire=hire, station=station, at=SHOWN),
        invitation=invitation,
        token=token,
        password_token=new_password.make_link(
            by=owner, membership=trainer, at=NOW - dt.timedelta(hours=1)
        )[1],
        module=lesson.module,
        lesson=lesson,
        coming=coming,
        out=_run_out(trainer),
        bottle=_bottle(trainer, words),
        **entries_answered(manager, trainer, hire, hands.pop("drink_seen"), SHOWN, words),
        **hands,
        **practised(hire, SHOWN),
        **_shown(hire, trainer, words),
        **_set(hire, trainer, words),
        **looked_at(manager, trainer, hire, fellow, left, SHOWN, NOW, words),
        **policy_set(manager, hire, SHOWN, NOW, words),
        tablet=_tablet(manager, hire, words),
        **_side_work(hire, trainer, words),
        sales=_sold(manager, words),
        permit=permits.add_permit(
            by=manager,
            member=hire,
            kind="serving",
            number=words("A 12"),
            valid_until=SHOWN.date() + dt.timedelta(days=9),
            at=SHOWN,
        ),
        refusal=refusals.note(
            by=hire, what="drunk", happened_at=SHOWN, words=words("Left by himself."), at=SHOWN
        ),
    )


def _set(hire: Membership, trainer: Membership, words: Words) -> dict[str, Any]:
    """What a trainer sets: a quiz sheet, a drill and a try-out; and a build of another drink,
    about which the trainer has still to say which; of an earlier one it is said."""
    menu = menu_at(hire.venue, SHOWN)
    one, other = menu.must_knows()[0], menu.must_knows()[1]
    said = dict.fromkeys(record_set.SHEET_FIELDS, 0) | {
        "name": words("Friday"), "length": 8, "mix": [], "critical": [], "pass_mark": 80,
        "minutes": 10,
    }  # fmt: skip
    builds = [
        record.watch_build(
            by=trainer, hire=hire, menu=menu, item=one, off=(RIGHT_DRINK.key,),
            help_level=HelpLevel.SHOWN, at=SHOWN,
        )
        for _ in range(2)
    ]  # fmt: skip
    record_set.say_made_instead(by=trainer, watched=builds[0], made=other.recipe, at=SHOWN)
    return {
        "wrong_drink": builds[1],
        "sheet": record_set.save_sheet(
            by=trainer, sheet=None, said=said, modules=[one.recipe.module], at=SHOWN
        ),
        "drill": record_set.set_drill(
            by=trainer, one=one.recipe, other=other.recipe, hires=[hire], at=SHOWN
        ),
        "try_out": record_set.offer_try_out(by=trainer, hire=hire, at=SHOWN),
    }


def _sold(manager: Membership, words: Words) -> SalesMix:
    """A Friday night of the till, a check a name; one of these is told, another waits."""
    names = [words(name) for name in ("Gin tonic", "Chips", "Beer")]
    sold = "".join(f"{name},3,2026-03-06,23,{n}\n" for n, name in enumerate(names))
    mix = take_in(manager, f"item,quantity,date,hour,check\n{sold}", at=SHOWN)
    menu = menu_at(manager.venue, SHOWN)
    record_sales.tell_names(by=manager, told={name_of(names[1]): None}, menu=menu, at=SHOWN)
    return mix


def _side_work(hire: Membership, trainer: Membership, words: Words) -> dict[str, Any]:
    """One task of the house's own, made ready too long ago; signed once more by mistake."""
    station = Station.objects.get(venue=hire.venue, slug="well")
    task = side_work.add_task(
        by=trainer, station=station, when="opening", text=words("Limes"), caution=words("Knife."),
        hours=1, at=SHOWN,
    )  # fmt: skip
    [done] = side_work.sign(by=hire, tasks=[task], at=NOW - dt.timedelta(hours=2))
    [slip] = side_work.sign(by=hire, tasks=[task], at=NOW - dt.timedelta(hours=1))
    side_work.take_back_done(by=hire, row=slip, reason=words("The other bar's."), at=NOW)
    return {"side_task": task, "side_done": done}


def _tablet(manager: Membership, hire: Membership, words: Words) -> Tablet:
    """The bar's shared tablet, on which the hire has just got their PIN wrong too often."""
    tablet, _token = shared_tablet.enrol_tablet(by=manager, name=words("The well"), at=SHOWN)
    shared_tablet.set_pin(by=hire, pin="4917", at=SHOWN)
    for _try in range(shared_tablet.TRIES):
        shared_tablet.try_pin(tablet=tablet, membership=hire, pin="4918", at=NOW)
    return tablet


def _bottle(trainer: Membership, words: Words) -> Ingredient:
    """A bottle of the house's own, that no drink needs."""
    stock = Stock(name=words(f"{trainer.person.sign_in} cordial"), kind=Kind.SYRUP)
    return add_ingredient(by=trainer, stock=stock, at=SHOWN)


def _slip(manager: Membership, trainer: Membership, hire: Membership, words: Words) -> None:
    """What was taken back: a certificate, a watched build, a mark in service."""
    station = ready.station(manager, STATION)
    certificate = issue.issue_certificate(by=manager, hire=hire, station=station, at=SHOWN)
    issue.revoke(by=manager, certificate=certificate, reason=words("Printed twice."), at=SHOWN)
    menu = menu_at(hire.venue, SHOWN)
    watched = record.watch_build(
        by=trainer, hire=hire, menu=menu, item=menu.must_knows()[1], off=(),
        help_level=HelpLevel.PROMPTED, at=SHOWN,
    )  # fmt: skip
    record.void_build(by=trainer, watched=watched, reason=words("The wrong hire."), at=SHOWN)
    mark = record_practical.mark_spot(
        by=trainer, hire=hire, menu=menu, item=menu.must_knows()[1], came=Came.WRONG, at=SHOWN
    )
    take_back_hand(by=trainer, row=mark, reason=words("Somebody else's drink."), at=SHOWN)


def _run_out(trainer: Membership) -> str:
    """A drink is off tonight, one bottle has a substitute and another has none. Gives the drink
    as the page names it."""
    menu = menu_at(trainer.venue, SHOWN)
    drink = next(i.recipe for i in menu.items if i.drink.slug.endswith("white-russian"))
    gin, rum, salt = (
        Ingredient.objects.get(venue=trainer.venue, slug=slug)
        for slug in ("gin", "white-rum", "salt")
    )
    say_drink_out(by=trainer, recipe=drink, at=SHOWN)
    say_bottle_out(by=trainer, ingredient=gin, substitute=rum, at=SHOWN)
    say_bottle_out(by=trainer, ingredient=salt, at=SHOWN)
    return f"drink:{drink.slug}"


def _publish_for_later(trainer: Membership) -> dt.datetime:
    """The last drink of the menu changes on a Thursday, in the other house an hour later."""
    item = menu_at(trainer.venue, SHOWN).items[-1]
    spec = {**item.revision.spec, "straw": not item.drink.spec.straw}
    effect = NOW + dt.timedelta(days=7, hours=Venue.objects.count())
    publish_revision(
        by=trainer, recipe=item.recipe, spec=spec, at=SHOWN, takes_effect_at=effect
    )  # fmt: skip
    return effect


def _shown(hire: Membership, trainer: Membership, words: Words) -> dict[str, Any]:
    menu = menu_at(hire.venue, SHOWN)
    item = menu.must_knows()[0]
    watched = record.watch_build(
        by=trainer, hire=hire, menu=menu, item=item, off=(), note=words("Neat and quick."),
        help_level=HelpLevel.UNPROMPTED, seconds=41, at=SHOWN,
    )  # fmt: skip
    record.mark_read(by=hire, module=item.recipe.module, at=SHOWN)
    record.mark_card(by=hire, menu=menu, item=item, missed=(), at=SHOWN)
    record_reading.time_read(by=hire, module=item.recipe.module, lesson=None, seconds=9, at=SHOWN)
    record_hooks.keep_hook(
        by=trainer, recipe=item.recipe, text=words("Red as a door."), is_shared=True, at=SHOWN
    )
    works = NOW + dt.timedelta(days=2, hours=Venue.objects.count())
    record_shift.say_next_shift(by=hire, hire=hire, starts_at=works, minutes=7, at=SHOWN)
    quiz = record.start_quiz(by=hire, menu=menu, module=item.recipe.module, seed=11, at=SHOWN)
    done = Quiz.objects.of(hire).exclude(finished_at=None).get()
    return {
        "watched": watched, "quiz": quiz, "done": done, "drink": item.drink.slug, "works": works,
    }  # fmt: skip
