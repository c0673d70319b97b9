"""What a hire's own pages show, where that takes more than one query."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from assessments.measures.marking import HelpLevel
from assessments.measures.shift_plan import CardDue, plan_cards
from assessments.models import CardMark, Memory, Quiz, QuizResult, Reading, SignOff, WatchedBuild
from barcourse.people.models import Membership, PersonalText
from recipes.grammar.aspects import Aspect, changed_aspects, topics
from recipes.grammar.house_spec import resolve
from recipes.menu import Menu, MenuDrink
from recipes.models import Module, Revision, RulesVersion


def cards_due(
    hire: Membership, menu: Menu, at: dt.datetime, *, module: Module | None = None
) -> tuple[CardDue, ...]:
    """Five minutes of cards from the whole menu, or from one module."""
    items = menu.of_module(module) if module else menu.items
    return plan_cards(
        drinks=[i.drink for i in items],
        memories={m.topic: m.facts() for m in Memory.objects.of(hire)},
        was=known_before(hire, menu),
        at=at,
    )


def known_before(hire: Membership, menu: Menu) -> dict[str, set[str]]:
    """Topics, by drink, that the hire met on cards of earlier revisions or rules.

    Only what differs from today is resolved anew, so this costs nothing until the house changes
    something.
    """
    today = {i.recipe.pk: i for i in menu.items}
    earlier: dict[str, set[str]] = {}
    rows = CardMark.objects.of(hire).values_list("recipe_id", "revision_id", "rules_version_id")
    for recipe_id, revision_id, rules_id in rows.distinct():
        item = today.get(recipe_id)
        if item is None or (revision_id, rules_id) == (item.revision.pk, menu.rules_version.pk):
            continue
        then = _topics_then(item, revision_id, rules_id, menu)
        earlier.setdefault(item.drink.slug, set()).update(then)
    return earlier


def _topics_then(item: MenuDrink, revision_id: int, rules_id: int, menu: Menu) -> set[str]:
    spec = Revision.objects.get(pk=revision_id).build
    rules = RulesVersion.objects.get(pk=rules_id).house_rules
    try:
        house = resolve(spec, rules, menu.pantry)
    except KeyError:  # something it was made with has left the house
        return set()
    return {t.fingerprint for t in topics(item.drink.slug, house, rules, menu.pantry)}


@dataclass(frozen=True)
class ModuleProgress:
    """One module as a hire sees it."""

    module: Module
    drinks: int
    is_read: bool
    result: QuizResult | None
    open_quiz: Quiz | None

    @property
    def is_passed(self) -> bool:
        return self.result is not None and self.result.passed


def modules_of(hire: Membership, menu: Menu) -> list[ModuleProgress]:
    """All modules in order, each with the best a hire has done on it: a pass, else the newest."""
    read = set(Reading.objects.filter(hire=hire).values_list("module_id", flat=True))
    best: dict[int, QuizResult] = {}
    for result in QuizResult.objects.of(hire).newest_first():
        kept = best.get(result.module_id)
        if kept is None or (result.passed and not kept.passed):
            best[result.module_id] = result
    still_open = {q.module_id: q for q in Quiz.objects.of(hire).open()}
    return [
        ModuleProgress(
            module=m,
            drinks=len(menu.of_module(m)),
            is_read=m.pk in read,
            result=best.get(m.pk),
            open_quiz=still_open.get(m.pk),
        )
        for m in Module.objects.in_house(hire.venue)
    ]


@dataclass(frozen=True)
class BuildShown:
    """A watched build for a list: the row, what has changed since, and the words about it."""

    build: WatchedBuild
    changed: tuple[Aspect, ...]
    on_menu: bool
    note: str
    void_reason: str

    @property
    def is_signed(self) -> bool:
        return hasattr(self.build, "sign_off")

    @property
    def is_void(self) -> bool:
        return hasattr(self.build, "void")


def builds_of(hire: Membership, menu: Menu) -> list[BuildShown]:
    rows = list(WatchedBuild.objects.of(hire).with_all().newest_first())
    return show_builds(rows, menu)


def show_builds(rows: Sequence[WatchedBuild], menu: Menu) -> list[BuildShown]:
    words = _texts(rows)
    return [_shown(row, menu, words) for row in rows]


def _shown(row: WatchedBuild, menu: Menu, words: dict[str, str]) -> BuildShown:
    item = menu.by_slug.get(row.recipe.slug)
    return BuildShown(
        build=row,
        changed=changed_aspects(row.fingerprints, item.drink.spec) if item else (),
        on_menu=item is not None,
        note=words.get(row.note_code, ""),
        void_reason=words.get(row.void.reason_code, "") if hasattr(row, "void") else "",
    )


def _texts(rows: Sequence[WatchedBuild]) -> dict[str, str]:
    codes = {r.note_code for r in rows} | {r.void.reason_code for r in rows if hasattr(r, "void")}
    return dict(PersonalText.objects.filter(code__in=codes - {""}).values_list("code", "text"))


@dataclass(frozen=True)
class ToWatch:
    """A drink as the trainer picks it. `signed` is the sign-off that proves today's build, else
    the newest unprompted one; `changed` is what the house has changed since."""

    item: MenuDrink
    signed: SignOff | None
    changed: tuple[Aspect, ...]

    @property
    def is_proven(self) -> bool:
        return self.signed is not None and not self.changed


def drinks_to_watch(hire: Membership, menu: Menu) -> list[ToWatch]:
    """The whole menu: what is not proven first, must-knows before the rest."""
    best = sign_offs_by_recipe([hire], menu.items)[hire.pk]
    found = [
        ToWatch(i, signed.sign_off, signed.changed)
        if (signed := best.get(i.recipe.pk))
        else ToWatch(i, None, ())
        for i in menu.items
    ]
    return sorted(found, key=lambda w: (w.is_proven, not w.item.recipe.must_know))


@dataclass(frozen=True)
class Signed:
    """A sign-off and the aspects in which the house has changed the drink since."""

    sign_off: SignOff
    changed: tuple[Aspect, ...]

    @property
    def proves(self) -> bool:
        return not self.changed


def sign_offs_by_recipe(
    hires: Sequence[Membership], items: Iterable[MenuDrink]
) -> dict[int, dict[int, Signed]]:
    """By hire and recipe: an unprompted sign-off that proves today's build, else the newest one.

    What was shown or prompted proves nothing about building it unaided.
    """
    today = {i.recipe.pk: i for i in items}
    rows = SignOff.objects.filter(hire__in=hires, help_level=HelpLevel.UNPROMPTED).standing()
    found: dict[int, dict[int, Signed]] = defaultdict(dict)
    for row in rows.select_related("trainer__person", "revision").newest_first():
        item = today.get(row.recipe_id)
        if item is None:
            continue
        signed = Signed(row, changed_aspects(row.fingerprints, item.drink.spec))
        kept = found[row.hire_id].get(row.recipe_id)
        if kept is None or (signed.proves and not kept.proves):
            found[row.hire_id][row.recipe_id] = signed
    return found
