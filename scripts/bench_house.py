"""A big house for the bench: many hires who have shown much, written straight into the tables.

The rows are such as the verbs write, but for the log: nobody reads it here.
"""

import datetime as dt
import random
from collections.abc import Sequence
from itertools import cycle
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from assessments.models import Item, Quiz, WatchedBuild
    from barcourse.people.models import Membership, Venue
    from recipes.menu import Menu

DRINKS = 150
ANSWERS = 150
BUILDS = 20
DAYS = 14
"""What somebody shows in a fortnight."""
IN_A_QUIZ = 50
SEED = 20260307
NAME = "Bench"
"""Of the quizzes; one that is copied bears the number of the one it was copied from."""


def big_house(name: str, people: int, now: dt.datetime) -> "tuple[Membership, list[Membership]]":
    """An owner and `people` hires of a house that pours DRINKS drinks."""
    from barcourse.people import enrol

    owner = enrol.open_house(
        name=name, owner_name="Owner", sign_in=name, password="only-for-this-run-of-the-bench",  # noqa: S106
        country="us", timezone="UTC", at=now - dt.timedelta(days=400),
    )  # fmt: skip
    _pour_fewer(owner, now)
    return owner, _hires(owner.venue, name, people, now)


def _pour_fewer(owner: "Membership", now: dt.datetime) -> None:
    from recipes import publish
    from recipes.menu import menu_at

    items = sorted(menu_at(owner.venue, now).items, key=lambda i: not i.recipe.must_know)
    off = {i.drink.slug: publish.OnMenu.OFF for i in items[DRINKS:]}
    publish.set_menu(by=owner, standing=off, at=now - dt.timedelta(days=300))


def _hires(venue: "Venue", name: str, people: int, now: dt.datetime) -> "list[Membership]":
    from barcourse.people.models import Membership, Person
    from barcourse.people.roles import Role

    persons = Person.objects.bulk_create(
        Person(sign_in=f"{name}-{n}", name=f"Hire {n:04}", password="!")  # noqa: S106
        for n in range(people)
    )
    start = venue.business_day(now - dt.timedelta(days=60))
    return Membership.objects.bulk_create(
        Membership(venue=venue, person=p, role=Role.TRAINEE, start_day=start) for p in persons
    )


def show_a_fortnight(
    owner: "Membership", menu: "Menu", hires: "Sequence[Membership]", now: dt.datetime
) -> None:
    """ANSWERS marked answers and BUILDS watched builds of everybody, each as able as chance made
    them; must-knows are watched first, and signed off where they passed."""
    dice = random.Random(SEED)  # noqa: S311
    able = {hire.pk: dice.betavariate(5, 2) for hire in hires}
    begin = now - dt.timedelta(days=DAYS)
    _pass_the_gates(menu, hires, begin)
    _answers(menu, hires, able, begin, dice)
    _builds(owner, menu, hires, able, begin, dice)


def _quiz(hire: "Membership", menu: "Menu", at: dt.datetime) -> "Quiz":
    from assessments.models import Quiz

    return Quiz(
        venue=menu.venue, hire=hire, rules_version=menu.rules_version, seed=1, plan={},
        pass_mark=80, started_at=at, finished_at=at, name=NAME,
    )  # fmt: skip


def _pass_the_gates(menu: "Menu", hires: "Sequence[Membership]", at: dt.datetime) -> None:
    from assessments.models import Quiz, QuizResult
    from recipes.models import Module

    for gate in Module.objects.in_house(menu.venue).gates():
        quizzes = Quiz.objects.bulk_create(_quiz(h, menu, at) for h in hires)
        QuizResult.objects.bulk_create(
            QuizResult(
                venue=menu.venue, quiz=q, hire=h, module=gate, right=9, would_ask=0, wrong=0,
                passed=True, answers_digest="0" * 32, at=at,
            )
            for q, h in zip(quizzes, hires, strict=True)
        )  # fmt: skip


def _answers(
    menu: "Menu", hires: "Sequence[Membership]", able: dict[int, float], begin: dt.datetime,
    dice: random.Random,
) -> None:  # fmt: skip
    from assessments.models import Answer, Item, Quiz

    quizzes = Quiz.objects.bulk_create(
        _quiz(hire, menu, begin + dt.timedelta(days=n * DAYS * IN_A_QUIZ / ANSWERS))
        for hire in hires
        for n in range(ANSWERS // IN_A_QUIZ)
    )
    items = Item.objects.bulk_create(
        (_item(menu, q, n, dice) for q in quizzes for n in range(IN_A_QUIZ)), batch_size=2000
    )
    Answer.objects.bulk_create(
        (
            Answer(
                venue=menu.venue, item=item, choice=0, milliseconds=4000,
                came=_came(able[item.quiz.hire_id], dice), at=item.quiz.started_at,
            )
            for item in items
        ),
        batch_size=2000,
    )  # fmt: skip


def _item(menu: "Menu", quiz: "Quiz", position: int, dice: random.Random) -> "Item":
    """Two of three about a whole drink, the others about a part."""
    from assessments import prints
    from assessments.models import Item

    one = dice.choice(menu.items)
    topics = [t.fingerprint for t in one.drink.topics]
    kind = "build" if position % 3 else "aspect"
    return Item(
        venue=menu.venue, quiz=quiz, position=position, kind=kind, recipe=one.recipe,
        revision=one.revision, build=prints.of_build(one.drink), choices=4,
        asked={"topics": topics if kind == "build" else topics[:2]},
    )  # fmt: skip


def _came(able: float, dice: random.Random) -> str:
    if dice.random() < able:
        return "right"
    return "ask" if dice.random() < 0.5 else "wrong"


def _builds(
    owner: "Membership", menu: "Menu", hires: "Sequence[Membership]", able: dict[int, float],
    begin: dt.datetime, dice: random.Random,
) -> None:  # fmt: skip
    from assessments import prints
    from assessments.models import SignOff, WatchedBuild

    wanted = sorted(menu.items, key=lambda i: not i.recipe.must_know)[:BUILDS]
    builds = WatchedBuild.objects.bulk_create(
        (
            WatchedBuild(
                venue=menu.venue, hire=hire, trainer=owner, recipe=item.recipe,
                revision=item.revision, rules_version=menu.rules_version,
                fingerprints=prints.by_aspect(item.drink), steps=[], help_level="unprompted",
                passed=dice.random() < able[hire.pk],
                at=begin + dt.timedelta(days=n * DAYS / BUILDS),
            )
            for hire in hires
            for n, item in enumerate(wanted)
        ),
        batch_size=1000,
    )  # fmt: skip
    SignOff.objects.bulk_create((_signed(b) for b in builds if b.passed), batch_size=1000)


def _signed(build: "WatchedBuild") -> "SignOff":  # noqa: F821
    from assessments.models import SignOff

    return SignOff(
        watched=build, venue=build.venue, hire=build.hire, trainer=build.trainer,
        recipe=build.recipe, revision=build.revision, rules_version=build.rules_version,
        fingerprints=build.fingerprints, help_level=build.help_level, at=build.at,
    )  # fmt: skip


def copy_rows(some: "Sequence[Membership]", others: "Sequence[Membership]") -> None:
    """The packed rows of some for the others too: as if they had shown the same."""
    from assessments.models import ReadyRow

    rows = ReadyRow.objects.filter(hire__in=some)
    ReadyRow.objects.bulk_create(
        (
            ReadyRow(
                venue_id=row.venue_id, hire=hire, evidence=row.evidence, menu=row.menu,
                packed_for=row.packed_for, at=row.at, packed=row.packed,
            )
            for hire, row in zip(others, cycle(rows))  # a cycle has no end
        ),
        batch_size=500,
    )  # fmt: skip


COPY_QUIZZES = """
INSERT INTO assessments_quiz (venue_id, code, hire_id, name, rules_version_id, seed, plan,
    pass_mark, started_at, finished_at)
WITH RECURSIVE time(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM time WHERE n < %s)
SELECT q.venue_id, lower(hex(randomblob(8))), q.hire_id, q.id, q.rules_version_id, q.seed, q.plan,
    q.pass_mark, datetime(q.started_at, (-14 * n) || ' days'), q.finished_at
FROM time, (SELECT * FROM assessments_quiz WHERE venue_id = %s AND name = %s) q
"""
COPY_ITEMS = """
INSERT INTO assessments_item (venue_id, quiz_id, position, kind, asked, recipe_id, revision_id,
    build, choices, critical)
SELECT i.venue_id, q.id, i.position, i.kind, i.asked, i.recipe_id, i.revision_id, i.build,
    i.choices, i.critical
FROM assessments_quiz q JOIN assessments_item i ON i.quiz_id = CAST(q.name AS INTEGER)
WHERE q.venue_id = %s AND q.name <> %s
"""
COPY_ANSWERS = """
INSERT INTO assessments_answer (venue_id, item_id, choice, came, milliseconds, at)
SELECT i.venue_id, i.id, a.choice, a.came, a.milliseconds, q.started_at
FROM assessments_quiz q JOIN assessments_item i ON i.quiz_id = q.id
JOIN assessments_item was ON was.quiz_id = CAST(q.name AS INTEGER) AND was.position = i.position
JOIN assessments_answer a ON a.item_id = was.id
WHERE q.venue_id = %s AND q.name <> %s
"""


def a_year_of_answers(venue: "Venue", answers: int) -> int:
    """The fortnight's answers on the fortnights before it too, until there are so many; copied
    within the database. How many there are then."""
    from django.db import connection, transaction

    from assessments.models import Answer

    times = -(-answers // Answer.objects.filter(venue=venue).count()) - 1
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(COPY_QUIZZES, [times, venue.pk, NAME])
        cursor.execute(COPY_ITEMS, [venue.pk, NAME])
        cursor.execute(COPY_ANSWERS, [venue.pk, NAME])
    return Answer.objects.filter(venue=venue).count()
