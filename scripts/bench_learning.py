"""The pages with which people learn and with which trainers see what they know, in a house where
some have learned: every one of them is held to twice the bare page."""

import datetime as dt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from assessments.measures.quiz import Given, ItemAsked
    from assessments.models import Quiz
    from barcourse.people.models import Membership

CREW = 6
"""Hires who have finished a quiz."""
MISSED = 3
"""Every so manieth question goes wrong."""

Page = tuple["Membership", str, *tuple[str, ...]]


def pages_of_learning(owner: "Membership", hire: "Membership") -> "list[Page]":
    """Who opens which page about what."""
    from assessments import record_hooks, record_set
    from recipes.menu import menu_at

    now = dt.datetime.now(dt.UTC)
    open_quiz, done = learning(hire), [finished(joined(owner, f"hire{n}")) for n in range(CREW)]
    mine = finished(hire)
    sheet = planned(owner)
    drinks = [i.recipe for i in menu_at(hire.venue, now).must_knows()]
    record_set.set_drill(by=owner, one=drinks[0], other=drinks[1], hires=[hire], at=now)
    record_set.offer_try_out(by=owner, hire=done[0].hire, at=now)
    record_hooks.keep_hook(
        by=hire, recipe=drinks[0], text="salt is the sea", is_shared=False, at=now
    )
    return [
        (hire, "next_shift"), (hire, "shift_when"), (hire, "shift_cards"),
        (hire, "quiz", open_quiz.code), (hire, "quiz_result", mine.code),
        (hire, "hook", drinks[0].slug), (hire, "modules"),
        (owner, "quiz_sheets"), (owner, "quiz_sheet", sheet), (owner, "item_report"),
        (owner, "mix_ups"), (owner, "mix_up", drinks[0].slug, drinks[1].slug),
        (owner, "try_out", done[0].hire.code), (owner, "study"), (owner, "study_csv"),
    ]  # fmt: skip


def learning(hire: "Membership") -> "Quiz":
    """Every module read and a quiz begun, so that cards hang there."""
    from assessments import record
    from recipes.menu import menu_at

    now = dt.datetime.now(dt.UTC)
    menu = menu_at(hire.venue, now)
    for module in {item.recipe.module for item in menu.items}:
        record.mark_read(by=hire, module=module, at=now)
    module = menu.must_knows()[0].recipe.module
    return record.start_quiz(by=hire, menu=menu, module=module, seed=1, at=now)


def finished(hire: "Membership") -> "Quiz":
    """The quiz on the last module, every so manieth question wrong."""
    from assessments import record
    from assessments.measures.quiz import ItemAsked
    from recipes.menu import menu_at

    now = dt.datetime.now(dt.UTC)
    menu = menu_at(hire.venue, now)
    module = menu.must_knows()[-1].recipe.module
    quiz = record.start_quiz(by=hire, menu=menu, module=module, seed=hire.pk, at=now)
    for row in quiz.items.all():
        asked = ItemAsked.from_json(row.asked)
        given = asked.right_answer if row.position % MISSED else missed(asked)
        record.answer_item(by=hire, item=row, choice=given, milliseconds=9000, at=now)
    quiz.refresh_from_db()
    return quiz


def missed(asked: "ItemAsked") -> "Given":
    """A wrong answer where any choice is one, else "I'd ask"."""
    from assessments.measures.quiz import ASK

    if asked.takes_several:
        return ASK
    return 0 if asked.right else 1


def planned(owner: "Membership") -> str:
    """The code of a quiz that was planned."""
    from assessments import record_set
    from recipes.models import Module

    said = {
        "name": "Friday", "length": 12, "scenarios": 2, "cards": 2, "mix": [], "critical": [],
        "pass_mark": 80, "minutes": 15, "retake_hours": 0,
    }  # fmt: skip
    modules = list(Module.objects.filter(venue=owner.venue))
    now = dt.datetime.now(dt.UTC)
    return record_set.save_sheet(by=owner, sheet=None, said=said, modules=modules, at=now).code


def joined(owner: "Membership", name: str) -> "Membership":
    from barcourse.people import enrol
    from barcourse.people.roles import Role

    now = dt.datetime.now(dt.UTC)
    [(_, token)] = enrol.invite(by=owner, names=[(name, Role.TRAINEE)], at=now)
    return enrol.join(token=token, sign_in=name, password="only-for-this-run-of-it", at=now)  # noqa: S106
