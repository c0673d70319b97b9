"""Everything that is written about what a person can do.

Each verb is one transaction with its log entry where the row is sealed. Cards that people mark
themselves, and reading, move the schedule only and are not logged.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping

from django.db import transaction

from assessments import checklist, prints, quiz_steps, tryouts
from assessments import record_steps as steps
from assessments.measures.marking import HelpLevel, mark_build
from assessments.measures.quiz import Given, ItemAsked, ItemKind, outcome, shows
from assessments.models import (
    Answer,
    CardMark,
    Item,
    Quiz,
    Reading,
    SignOff,
    Void,
    WatchedBuild,
)
from assessments.models.watch import Help, MadeWith
from assessments.remember import remember, topics_of_build
from barcourse.people import log
from barcourse.people.models import Membership
from barcourse.people.reasons import Refused, refuse
from recipes.grammar.aspects import Aspect
from recipes.menu import Menu, MenuDrink
from recipes.models import Module


@transaction.atomic
def mark_read(*, by: Membership, module: Module, at: dt.datetime) -> Reading:
    """The hire has read a module's notes; saying so twice keeps the first time."""
    steps.refuse_other_house(by, module)
    reading, _new = Reading.objects.get_or_create(
        hire=by, module=module, defaults={"venue": by.venue, "at": at}
    )
    return reading


@transaction.atomic
def mark_card(
    *,
    by: Membership,
    menu: Menu,
    item: MenuDrink,
    missed: Iterable[Aspect],
    at: dt.datetime,
    milliseconds: int | None = None,
    seen: str | None = None,
) -> CardMark:
    """A hire turned a card and says which aspects they did not have. Moves the schedule only.

    `seen` is the print of the build on the card's back; refused where it is today's no longer.
    """
    steps.refuse_other_house(by, item.recipe)
    steps.refuse_changed(item, seen)
    steps.lock_hire(by)
    missed = set(missed)
    card = CardMark.objects.create(
        venue=by.venue, hire=by, recipe=item.recipe, revision=item.revision,
        rules_version=menu.rules_version, build=prints.of_build(item.drink),
        missed=[a.value for a in Aspect if a in missed], milliseconds=milliseconds, at=at,
    )  # fmt: skip
    remember(
        by, {t.fingerprint: t.aspect not in missed for t in item.drink.topics}, at,
        kind="card", milliseconds=milliseconds, whole=True,
    )  # fmt: skip
    return card


@transaction.atomic
def start_quiz(*, by: Membership, menu: Menu, module: Module, seed: int, at: dt.datetime) -> Quiz:
    """A quiz on a module, or the one still open on it. Refuses a module with nothing to ask."""
    steps.refuse_other_house(by, module)
    steps.lock_hire(by)
    still_open = Quiz.objects.of(by).open().filter(module=module).first()
    if still_open:
        return still_open
    quiz, items = quiz_steps.on_module(by, menu, module, seed, at)
    if not items:
        raise refuse("quiz_has_nothing_to_ask", module=module.name)
    quiz.save()
    Item.objects.bulk_create(items)
    return quiz


@transaction.atomic
def answer_item(
    *,
    by: Membership,
    item: Item,
    choice: Given,
    at: dt.datetime,
    milliseconds: int | None = None,
) -> Answer:
    """One answer; the first one counts. The last one of a quiz finishes it. Refused once the
    quiz's time is up."""
    quiz = item.quiz
    if quiz.hire_id != by.pk:
        raise refuse("not_your_quiz")
    steps.lock_hire(by)
    given = Answer.objects.filter(item=item).first()
    if given:
        return given
    asked = ItemAsked.from_json(item.asked)
    if quiz.is_over(at):
        raise refuse("time_is_up")
    try:
        came = outcome(asked, choice)
    except ValueError:
        raise _no_answer(asked) from None
    single, said = (choice, None) if isinstance(choice, int) else (0, list(choice))
    answer = Answer.objects.create(
        venue=by.venue, item=item, choice=single, said=said, came=came,
        milliseconds=milliseconds, at=at,
    )  # fmt: skip
    remember(by, shows(asked, choice), at, kind=asked.part, milliseconds=milliseconds)
    if not quiz.items.filter(answer__isnull=True).exists() and not tryouts.go_on(quiz, at):
        quiz_steps.finish(quiz, by=by, at=at)
    return answer


def _no_answer(asked: ItemAsked) -> Refused:
    """What isn't a whole answer, said as the item is answered."""
    if asked.kind is ItemKind.SEVERAL:
        return refuse("nothing_ticked")
    if asked.kind is ItemKind.ORDER:
        return refuse("places_missing")
    return refuse("half_a_build") if asked.kind is ItemKind.BUILD else refuse("no_such_choice")


@transaction.atomic
def watch_build(
    *,
    by: Membership,
    hire: Membership,
    menu: Menu,
    item: MenuDrink,
    off: Iterable[str],
    help_level: HelpLevel,
    made_with: MadeWith = MadeWith.STOCK,
    seconds: int | None = None,
    note: str = "",
    measured: Mapping[str, float] | None = None,
    at: dt.datetime,
    seen: str | None = None,
) -> WatchedBuild:
    """A watched build with what went wrong. Every other step counts as done, save for a pour whose
    `measured` millilitres, by the key of its step, are off.

    Refuses one's own build, somebody of another house or who has left, and a checklist that is
    not this drink's of today: `seen` is the print of the build it was drawn from.
    """
    steps.refuse_other_house(by, item.recipe)
    steps.refuse_watching(by, hire, at)
    steps.refuse_changed(item, seen)
    steps.lock_hire(hire)
    asked, measured = checklist.steps_of(item.drink, menu.pantry), measured or {}
    off = frozenset(off) | checklist.pours_off(item.drink.spec, measured, menu.rules.tolerance_ml)
    try:
        verdict = mark_build(asked, off, help_level)
    except ValueError:
        raise refuse("drink_changed", drink=item.drink.name) from None
    text = log.keep_text(about=hire, text=note.strip()) if note.strip() else None
    build = WatchedBuild.objects.create(
        venue=by.venue, hire=hire, trainer=by, recipe=item.recipe, revision=item.revision,
        rules_version=menu.rules_version, fingerprints=prints.by_aspect(item.drink),
        steps=[checklist.step_json(s) for s in asked], off=sorted(off),
        help_level=Help(help_level.value), made_with=made_with, seconds=seconds,
        passed=verdict.passed, note_code=text.code if text else "", at=at,
    )  # fmt: skip
    log.append(
        venue=by.venue, by=by, kind="build_watched", subject=hire, row=build, text=text, at=at
    )
    steps.keep_measured(build, item.drink, measured, by=by, at=at)
    if help_level is HelpLevel.UNPROMPTED:
        remember(hire, topics_of_build(item.drink, asked, off), at)
    return build


@transaction.atomic
def sign_off(*, by: Membership, watched: WatchedBuild, at: dt.datetime) -> SignOff:
    """A passed build signed off by whoever watched it. Twice is once."""
    steps.refuse_other_house(by, watched)
    if watched.hire_id == by.pk:
        raise refuse("nobody_signs_for_themselves")
    if watched.trainer_id != by.pk:
        raise refuse("only_who_watched_signs")
    if not watched.passed:
        raise refuse("not_passed")
    steps.lock_build(watched)
    steps.refuse_void(watched)
    done = SignOff.objects.filter(watched=watched).first()
    if done:
        return done
    row = SignOff.objects.create(
        venue=watched.venue, watched=watched, hire=watched.hire, trainer=by,
        recipe=watched.recipe, revision=watched.revision, rules_version=watched.rules_version,
        fingerprints=watched.fingerprints, help_level=watched.help_level,
        seconds=watched.seconds, at=at,
    )  # fmt: skip
    log.append(venue=by.venue, by=by, kind="signed_off", subject=watched.hire, row=row, at=at)
    return row


@transaction.atomic
def void_build(
    *,
    by: Membership,
    watched: WatchedBuild,
    reason: str,
    at: dt.datetime,
    kind: str = "build_voided",
) -> Void:
    """A watched build, and its sign-off, no longer count. Needs a reason; nothing is deleted.
    `kind` is that of the log's entry."""
    steps.refuse_other_house(by, watched)
    if watched.hire_id == by.pk:
        raise refuse("nobody_voids_their_own")
    if not reason.strip():
        raise refuse("void_needs_reason", "reason")
    steps.lock_build(watched)
    steps.refuse_void(watched)
    text = log.keep_text(about=watched.hire, text=reason.strip())
    void = Void.objects.create(
        venue=watched.venue, watched=watched, hire=watched.hire, by=by, reason_code=text.code, at=at
    )
    log.append(venue=by.venue, by=by, kind=kind, subject=watched.hire, row=void, text=text, at=at)
    return void
