"""Builds that somebody has met, on cards, in quizzes, as calls and behind the bar: what of a drink
they know otherwise than it is built today, and what it was when they met it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field, replace

from django.db.models import F, Max, Min, Q
from django.db.models.functions import Greatest

from assessments import checklist, prints
from assessments.measures.marking import HelpLevel
from assessments.measures.otherwise import Met, Otherwise, known_otherwise, marks_of
from assessments.measures.quiz import marks_shown
from assessments.models import Answer, CallMark, CardMark, WatchedBuild
from assessments.models.quiz import Came
from assessments.remember import topics_of_build
from barcourse.people.models import Membership
from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink
from recipes.menu import Menu, MenuDrink, resolve_all
from recipes.models import Recipe, Revision, RulesVersion

Rows = tuple[int, int]
"""A revision and the version of the rules under which it was built."""

Build = tuple[int, str]
"""A recipe and the print of the build that was met."""


@dataclass(frozen=True)
class Earlier:
    """A build of another time, with the menu's words and the rules of that time."""

    drink: Drink
    menu: Menu


@dataclass(frozen=True)
class Known:
    """What somebody knows otherwise than a menu has it. `earlier` has the words of builds of
    another time, by their print."""

    otherwise: Otherwise = field(default_factory=dict)
    earlier: dict[str, Earlier] = field(default_factory=dict)

    def was(self, drink: Drink) -> Earlier:
        return self.earlier[drink.slug + prints.of_build(drink)]


@dataclass(frozen=True)
class _Times:
    """When one build was met: first while it was in force, if ever, and last."""

    build: Build
    rows: Rows
    first: dt.datetime | None
    last: dt.datetime


def known_to(hire: Membership, menu: Menu) -> Known:
    """Two steps, so that whoever has met everything as it is today waits for three queries."""
    today = {item.recipe.pk: item for item in menu.items}
    watched = _watched(hire, menu.at)
    times = [t for t in (*_times(hire, menu.at), *_watched_times(watched)) if t.build[0] in today]
    now = {pk: prints.of_build(item.drink) for pk, item in today.items()}
    if all(t.build[1] == now[t.build[0]] for t in times):
        return Known()
    built = _Builds(menu, today, times)
    met = [
        *built.met(times), *_sure_answers(hire, built), *_sure_calls(hire, built),
        *_sure_builds(watched, built, menu), *_clean_cards(hire, built),
    ]  # fmt: skip
    return Known(known_otherwise(menu.drinks, met), built.earlier)


_ROWS = ("revision_id", "rules_version_id")


def _times(hire: Membership, at: dt.datetime) -> Iterator[_Times]:
    """On cards and in quizzes; what is still to come at that moment left out."""
    come = Q(revision__takes_effect_at__lte=at, rules_version__takes_effect_at__lte=at)
    in_force = Q(
        at__gte=F("revision__takes_effect_at"), rules_version__takes_effect_at__lte=F("at")
    )
    cards = CardMark.objects.of(hire).filter(come).values_list("recipe_id", "build", *_ROWS)
    cards = cards.annotate(first=Min("at", filter=in_force), last=Max("at")).order_by()
    for recipe, build, *rows, first, last in cards:
        yield _Times((recipe, build), (rows[0], rows[1]), first, last)
    asked = Answer.objects.of(hire).exclude(item__build="").values_list(*_ASKED)
    asked = asked.annotate(first=Min("at"), last=Max("at")).order_by()
    for recipe, build, *rows, first, last in asked:
        yield _Times((recipe, build), (rows[0], rows[1]), first, last)


_ASKED = ("item__recipe_id", "item__build", "item__revision_id", "item__quiz__rules_version_id")


def _watched(hire: Membership, at: dt.datetime) -> list[WatchedBuild]:
    come = Q(revision__takes_effect_at__lte=at, rules_version__takes_effect_at__lte=at)
    rows = WatchedBuild.objects.of(hire).filter(come).select_related("revision", "rules_version")
    return list(rows.filter(void__isnull=True))


def _is_ahead(row: WatchedBuild) -> bool:
    """Whether it was built before it took effect."""
    return row.at < max(row.revision.takes_effect_at, row.rules_version.takes_effect_at)


def _watched_times(watched: Iterable[WatchedBuild]) -> Iterator[_Times]:
    for row in watched:
        build = (row.recipe_id, prints.whole(row.fingerprints))
        first = None if _is_ahead(row) else row.at
        yield _Times(build, (row.revision_id, row.rules_version_id), first, row.at)


class _Builds:
    """Every build that was met, worked out from its rows, read at once. What is built as today is
    today's drink; at least one was not."""

    def __init__(self, menu: Menu, today: dict[int, MenuDrink], times: Collection[_Times]) -> None:
        self._drinks: dict[Build, Drink] = {
            (pk, prints.of_build(item.drink)): item.drink for pk, item in today.items()
        }
        self.earlier: dict[str, Earlier] = {}
        self.otherwise_since = min(t.last for t in times if t.build not in self._drinks)
        wanted = {t.build: t.rows for t in times if t.build not in self._drinks}
        revisions = Revision.objects.in_bulk({revision for revision, _ in wanted.values()})
        versions = RulesVersion.objects.in_bulk({version for _, version in wanted.values()})
        menus = {pk: _as_of(menu, version) for pk, version in versions.items()}
        for build, (revision, version) in wanted.items():
            recipe = today[build[0]].recipe
            if drink := _built(recipe, revisions[revision], menus[version]):
                self._drinks[build] = drink
                key = drink.slug + prints.of_build(drink)
                self.earlier[key] = Earlier(drink, menus[version])

    def of(self, recipe: int, build: str) -> Drink | None:
        """None of a drink that the menu has no more, or the house no words for."""
        return self._drinks.get((recipe, build))

    def met(self, times: Iterable[_Times]) -> Iterator[Met]:
        for t in times:
            if drink := self.of(*t.build):
                yield Met(drink, t.last, ahead=t.first is None)
                if t.first and t.first < t.last:
                    yield Met(drink, t.first)


def _built(recipe: Recipe, revision: Revision, menu: Menu) -> Drink | None:
    found = resolve_all([(recipe, revision)], menu.rules, menu.pantry)
    return found[0].drink if found else None


def _as_of(menu: Menu, version: RulesVersion) -> Menu:
    return replace(menu, rules_version=version, rules=version.house_rules)


def _sure_answers(hire: Membership, built: _Builds) -> Iterator[Met]:
    """What was last answered right to the program, by the kind of question."""
    right = Answer.objects.of(hire).filter(came=Came.RIGHT).exclude(item__build="")
    told = ("item__recipe_id", "item__build", "item__kind", "item__asked__aspect")
    rows = right.values_list(*told).annotate(last=Max("at")).order_by()
    for recipe, build, kind, aspect, last in rows:
        if drink := built.of(recipe, build):
            yield Met(drink, last, sure=marks_shown(drink, kind, aspect))


def _sure_calls(hire: Membership, built: _Builds) -> Iterator[Met]:
    """A call that is built as the house builds it; how much a pour is, nobody said there."""
    right = CallMark.objects.of(hire).filter(came=Came.RIGHT, recipe__isnull=False)
    rows = right.values_list("recipe_id", "build").annotate(last=Max("at")).order_by()
    for recipe, build, last in rows:
        if drink := built.of(recipe or 0, build):
            sizes = {t.fingerprint for t in drink.topics if t.is_pour_size}
            yield Met(drink, last, sure=marks_of(drink) - sizes)


def _sure_builds(watched: Iterable[WatchedBuild], built: _Builds, menu: Menu) -> Iterator[Met]:
    for row in watched:
        drink = built.of(row.recipe_id, prints.whole(row.fingerprints))
        if drink and row.help_level == HelpLevel.UNPROMPTED:
            yield Met(drink, row.at, sure=_right_in(drink, row), ahead=_is_ahead(row))


def _right_in(drink: Drink, row: WatchedBuild) -> frozenset[str]:
    steps = [checklist.step_from(step) for step in row.steps]
    shown = topics_of_build(drink, steps, frozenset(row.off))
    wrong = {t.aspect for t in drink.topics if not shown[t.fingerprint]}
    return marks_of(drink, set(Aspect) - wrong) if any(shown.values()) else frozenset()


def _clean_cards(hire: Membership, built: _Builds) -> Iterator[Met]:
    """Card by card, what somebody says that they had, since anything was met otherwise."""
    began = Greatest("revision__takes_effect_at", "rules_version__takes_effect_at")
    cards = CardMark.objects.of(hire).annotate(began=began)
    cards = cards.filter(Q(at__gte=built.otherwise_since) | Q(at__lt=F("began")))
    told = cards.values_list("recipe_id", "build", "missed", "at", "began")
    for recipe, build, missed, at, began_at in told:
        if drink := built.of(recipe, build):
            had = set(Aspect) - {Aspect(a) for a in missed}
            yield Met(drink, at, clean=marks_of(drink, had), ahead=at < began_at)
