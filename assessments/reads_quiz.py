"""What trainers read across quizzes and watched builds: how good the questions are, and who mixes
up what."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from django.db import connection
from django.db.models import Max

from assessments import prints
from assessments.measures.itemstats import Answered, Report, places_of, report
from assessments.measures.mixups import Seen
from assessments.measures.quiz import (
    ASK,
    WHOLE_DRINK,
    Given,
    ItemAsked,
    ItemKind,
    mixed_up_with,
)
from assessments.models import (
    Answer,
    CallMark,
    Item,
    MadeInstead,
    Quiz,
    QuizResult,
    QuizSheet,
    WatchedBuild,
)
from assessments.models.quiz import Came
from assessments.models.watch import Help
from barcourse.people.models import Membership, Venue
from recipes.menu import Menu
from recipes.models import Scenario

LOOKED_BACK = dt.timedelta(days=90)
"""Who mixed up two drinks longer ago has been trained since (our own number, no source)."""

Example = tuple[ItemAsked, Given]


@dataclass(frozen=True)
class ItemReport:
    """A report with, for each question and each thing picked wrongly, an item as it was asked."""

    report: Report
    asked: dict[str, ItemAsked]
    picked: dict[tuple[str, str], Example]


def next_position(quiz: Quiz) -> int | None:
    """Of the first item without an answer; none where all are answered."""
    item, answer = Item._meta.db_table, Answer._meta.db_table
    with connection.cursor() as cursor:  # by hand: on every page of a quiz, and five times as fast
        cursor.execute(
            f'SELECT MIN(i.position) FROM "{item}" i LEFT JOIN "{answer}" a ON a.item_id = i.id '  # noqa: S608
            "WHERE i.quiz_id = %s AND a.id IS NULL",
            [quiz.pk],
        )
        row: tuple[int | None] = cursor.fetchone()
    return row[0]


def waits_until(hire: Membership, sheets: Iterable[QuizSheet]) -> dict[int, dt.datetime]:
    """By sheet that somebody has taken: when the house lets them take it again."""
    hours = {sheet.pk: dt.timedelta(hours=sheet.retake_hours) for sheet in sheets}
    results = QuizResult.objects.of(hire).by_sheets(hours)
    return {
        sheet: last + hours[sheet]
        for sheet, last in results.values_list("quiz__sheet").annotate(last=Max("at"))
    }


def item_report(quizzes: Iterable[Quiz]) -> ItemReport:
    """On each person's first finished quiz among these, in two queries: what they answered. What
    was left open when the time was up is missing, not wrong."""
    first: dict[int, Quiz] = {}
    for quiz in sorted(quizzes, key=lambda q: (q.started_at, q.pk)):
        first.setdefault(quiz.hire_id, quiz)
    rows = Answer.objects.filter(item__quiz__in=first.values())
    rows = rows.select_related("item__quiz")
    by_quiz: dict[int, list[Answer]] = defaultdict(list)
    for row in rows.order_by("item__position"):
        by_quiz[row.item.quiz_id].append(row)
    answered: list[Answered] = []
    unfinished: set[int] = set()
    asked: dict[str, ItemAsked] = {}
    picked: dict[tuple[str, str], Example] = {}
    for quiz_id, answers in by_quiz.items():
        items = [ItemAsked.from_json(a.item.asked) for a in answers]
        keys = [_keys(i, a.item.build) for i, a in zip(items, answers, strict=True)]
        for row, item, (_, key), place in zip(answers, items, keys, places_of(keys), strict=True):
            if not row.is_in_time:
                unfinished.add(quiz_id)
                continue
            said = _said(item, row) if row.came == Came.WRONG else ""
            answered.append(Answered(key, quiz_id, place, row.came == Came.RIGHT, said))
            asked[key] = item
            if said:
                picked[key, said] = (item, row.given)
    return ItemReport(report(answered, unfinished), asked, picked)


def _keys(item: ItemAsked, build: str) -> tuple[str, str]:
    """The kind of place that a question fills, and the question itself. Situations are drawn too:
    two people meet as many, not the same ones."""
    place = f"{item.part}{'!' if item.critical else ''}"
    if item.scenario:
        return place, " ".join((item.scenario, *asked_as(item)))
    called = f" {item.prompt}" if item.kind is ItemKind.ASK_BACK else ""
    return place, f"{item.part} {item.recipe} {build}{called}"


def asked_as(item: ItemAsked) -> tuple[str, ...]:
    """The words of a question on a situation, its right answer first: reworded, or with another
    right answer, it is another question, and begins anew."""
    if item.kind is not ItemKind.SCENARIO:
        return ()
    texts = [str(c.content["text"]) for c in item.choices]
    return str(item.prompt.values["question"]), texts.pop(item.right), *sorted(texts)


def questions_now(venue: Venue) -> dict[tuple[str, ...], Scenario]:
    """The house's questions on situations, by their words: where each is mended."""
    found = {}
    for row in Scenario.objects.in_house(venue).select_related("lesson__module"):
        others = [text for n, text in enumerate(row.choices) if n != row.right]
        found[row.question, row.choices[row.right], *sorted(others)] = row
    return found


def _said(item: ItemAsked, row: Answer) -> str:
    """What was picked, the same in every quiz whatever its order of choices."""
    given = row.given
    if isinstance(given, int):
        return str(dict(item.choices[given].content)) if given != ASK else ""
    if item.parts:
        pairs = zip(item.parts, given, strict=True)
        return str([dict(part.choices[g].content) for part, g in pairs])
    return str([dict(item.choices[g].content) for g in given])


def seen_lately(hires: Sequence[Membership], menu: Menu) -> list[Seen]:
    """Every whole drink asked of these people lately, on today's builds: in quizzes, of calls and
    in watches."""
    return [*_in_quizzes(hires, menu), *_in_calls(hires, menu), *_in_watches(hires, menu)]


def _in_calls(hires: Sequence[Membership], menu: Menu) -> Iterator[Seen]:
    """Drinks called as the house builds them; a call with a change is about the change."""
    today = {(i.recipe.pk, prints.of_build(i.drink)): i.drink.slug for i in menu.items}
    rows = CallMark.objects.of(*hires).since(menu.at - LOOKED_BACK).until(menu.at)
    for hire, recipe, build, came, other in rows.values_list(
        "hire_id", "recipe_id", "build", "came", "mixed_up_with"
    ):
        if slug := today.get((recipe, build)):
            given = other if came == Came.WRONG and other in menu.by_slug else None
            yield Seen(hire, slug, given, "call")


def _in_quizzes(hires: Sequence[Membership], menu: Menu) -> Iterator[Seen]:
    today = {(i.recipe.pk, prints.of_build(i.drink)): i.drink.slug for i in menu.items}
    rows = (
        Answer.objects.of(*hires)
        .filter(at__gte=menu.at - LOOKED_BACK, at__lte=menu.at)
        .to_kinds(sorted(k.value for k in WHOLE_DRINK))
        .in_time()
    )
    wrong = {
        a.pk: mixed_up_with(ItemAsked.from_json(a.item.asked), a.given)
        for a in rows.filter(came=Came.WRONG).select_related("item")
    }
    for pk, hire, recipe, build in rows.values_list(
        "pk", "item__quiz__hire_id", "item__recipe_id", "item__build"
    ):
        if slug := today.get((recipe, build)):
            yield Seen(hire, slug, wrong.get(pk), "quiz")


def _in_watches(hires: Sequence[Membership], menu: Menu) -> Iterator[Seen]:
    """A build of an earlier recipe says nothing of today's, as in quizzes and calls."""
    today = {(i.recipe.pk, prints.of_build(i.drink)): i.drink.slug for i in menu.items}
    slugs = {i.recipe.pk: i.drink.slug for i in menu.items}
    made = {m.watched_id: slugs.get(m.made_id) for m in MadeInstead.objects.of(*hires)}
    builds = WatchedBuild.objects.of(*hires).standing(menu.at).exclude(help_level=Help.SHOWN)
    lately = builds.filter(at__gte=menu.at - LOOKED_BACK)
    for pk, hire, recipe, aspects in lately.values_list(
        "pk", "hire_id", "recipe_id", "fingerprints"
    ):
        if slug := today.get((recipe, prints.whole(aspects))):
            yield Seen(hire, slug, made.get(pk), "watch")


def finished(venue: Venue) -> list[Quiz]:
    """Every finished quiz of the house on a module or by a sheet."""
    rows = Quiz.objects.filter(venue=venue, finished_at__isnull=False, drill__isnull=True)
    return list(rows.select_related("module", "sheet"))
