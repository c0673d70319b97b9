"""Quiz items, answered or not, as the words that a page shows."""

from __future__ import annotations

from dataclasses import dataclass
from string import ascii_uppercase

from django.utils.translation import gettext as _

from assessments import wording
from assessments.measures.quiz import ASK, Choice, ItemAsked, ItemKind
from assessments.showing import Lines, Naming
from recipes import wording as recipe_wording
from recipes.grammar.aspects import Aspect


@dataclass(frozen=True)
class ChoiceShown:
    """An answer to pick: `text`, or for a whole build `lines` with what sets it apart."""

    value: int
    letter: str
    text: str
    lines: Lines
    is_right: bool
    is_given: bool


@dataclass(frozen=True)
class ItemShown:
    """One item in words. `shown` is the build that a name-it item asks the name of, `alike` what
    all the builds to choose from have in common: only the rest is worth comparing."""

    prompt: str
    choices: list[ChoiceShown]
    shown: Lines
    alike: Lines
    critical: bool
    given: int | None
    why: str

    @property
    def asked(self) -> bool:
        return self.given == ASK

    @property
    def is_right(self) -> bool:
        return any(c.is_right and c.is_given for c in self.choices)


def show_item(item: ItemAsked, naming: Naming, given: int | None = None) -> ItemShown:
    builds = [_build(c, item, naming) for c in item.choices]
    alike = [line for line in builds[0] if all(line in b for b in builds)]
    return ItemShown(
        prompt=wording.word(item.prompt),
        choices=[
            ChoiceShown(
                value=n,
                letter=ascii_uppercase[n],
                text=_text(choice, item, naming),
                lines=[line for line in build if line not in alike],
                is_right=n == item.right,
                is_given=n == given,
            )
            for n, (choice, build) in enumerate(zip(item.choices, builds, strict=True))
        ],
        shown=naming.build(item.shown) if item.shown else [],
        alike=alike,
        critical=item.critical,
        given=given,
        why=wording.word(item.why) if item.why else "",
    )


def _build(choice: Choice, item: ItemAsked, naming: Naming) -> Lines:
    return naming.build(choice.content) if item.kind is ItemKind.WHOLE else []


def _text(choice: Choice, item: ItemAsked, naming: Naming) -> str:
    match item.kind:
        case ItemKind.WHOLE:
            return ""
        case ItemKind.NAME_IT:
            return str(choice.content["name"])
        case ItemKind.SCENARIO:
            return str(choice.content["text"])
        case ItemKind.ASPECT:
            return _(", ").join(naming.aspect(Aspect(item.part), choice.content))


def part_label(part: str) -> str:
    """What a result by aspect is counted under."""
    if part in set(Aspect):
        return recipe_wording.label(Aspect(part))
    return {
        ItemKind.WHOLE.value: _("The whole build"),
        ItemKind.NAME_IT.value: _("Naming a build"),
        ItemKind.SCENARIO.value: _("What to do"),
    }[part]
