"""One hire of the demo house: quizzes, cards and watched builds from the first day to today."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from random import Random

from assessments import checklist, record
from assessments.measures.marking import HelpLevel
from assessments.measures.quiz import ASK, Given, ItemAsked, ItemKind
from barcourse.demo.diary import Diary
from barcourse.demo.house import Hand, moment
from barcourse.people.models import Membership
from recipes.grammar.aspects import Aspect
from recipes.menu import Menu, MenuDrink
from recipes.models import Module


@dataclass(frozen=True)
class Hire:
    """Somebody in training. Everything they do comes from `random`, seeded by their name."""

    hand: Hand
    member: Membership
    trainer: Membership
    menu: Menu
    random: Random

    def plan(self, diary: Diary, now: dt.datetime) -> None:
        for module in Module.objects.in_house(self.member.venue):
            self._plan_quizzes(diary, module, now)
        for item in self.menu.must_knows()[: 3 * self.hand.quizzes]:
            at = moment(now, self.hand.days * self.random.random())
            diary.plan(at, lambda at, item=item: self._turn_card(item, at))  # type: ignore[misc]
        self._plan_builds(diary, now)

    def _plan_quizzes(self, diary: Diary, module: Module, now: dt.datetime) -> None:
        """Spread over the days since they came; safety once, known by heart."""
        has_drinks = bool(self.menu.of_module(module))
        rounds = self.hand.quizzes if has_drinks else int(self.hand.safety)
        knows = self.hand.knows if has_drinks else 1.0
        for number in range(rounds):
            at = moment(now, self.hand.days * (1 - (number + 1) / (rounds + 1)))
            diary.plan(at, lambda at: self._take_quiz(module, knows, at))

    def _plan_builds(self, diary: Diary, now: dt.datetime) -> None:
        must = self.menu.must_knows()
        for number, item in enumerate(must[: round(self.hand.signed * len(must))]):
            at = moment(now, 0.2 + self.hand.days * 0.5 * (1 - number / len(must)))
            diary.plan(at, lambda at, item=item: self._build(diary, item, at))  # type: ignore[misc]

    def _take_quiz(self, module: Module, knows: float, at: dt.datetime) -> None:
        seed = self.random.randrange(2**31)
        quiz = record.start_quiz(by=self.member, menu=self.menu, module=module, seed=seed, at=at)
        for number, item in enumerate(quiz.items.all()):
            record.answer_item(
                by=self.member,
                item=item,
                choice=self._answer(ItemAsked.from_json(item.asked), knows),
                at=at + dt.timedelta(seconds=9 * number),
                milliseconds=self.random.randrange(2500, 9000),
            )

    def _answer(self, asked: ItemAsked, knows: float) -> Given:
        """Right as often as they know it; else they would ask about half of the time."""
        if self.random.random() < knows:
            return asked.right_answer
        return ASK if self.random.random() < 0.5 else self._guess(asked)

    def _guess(self, asked: ItemAsked) -> Given:
        """Any answer to the item."""
        if asked.parts:
            return tuple(self.random.randrange(len(part.choices)) for part in asked.parts)
        every = range(len(asked.choices))
        if not asked.takes_several:
            return self.random.choice(every)
        some = self.random.sample(every, len(asked.rights))
        return tuple(some) if asked.kind is ItemKind.ORDER else tuple(sorted(some))

    def _turn_card(self, item: MenuDrink, at: dt.datetime) -> None:
        missed = [a for a in Aspect if self.random.random() > 0.5 + self.hand.knows / 2]
        record.mark_card(by=self.member, menu=self.menu, item=item, missed=missed, at=at)

    def _build(self, diary: Diary, item: MenuDrink, at: dt.datetime) -> None:
        """One watched build: signed off where it passed, tried once more where it did not."""
        steps = checklist.steps_of(item.drink, self.menu.pantry)
        slip = self.random.random() > self.hand.knows
        watched = record.watch_build(
            by=self.trainer,
            hire=self.member,
            menu=self.menu,
            item=item,
            off=[self.random.choice(steps).key] if slip else [],
            help_level=HelpLevel.UNPROMPTED,
            seconds=self.random.randrange(22, 70),
            at=at,
        )
        if watched.passed:
            record.sign_off(by=self.trainer, watched=watched, at=at)
        else:
            later = at + dt.timedelta(minutes=20)
            diary.plan(later, lambda at: self._build(diary, item, at))
