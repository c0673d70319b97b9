"""Quiz items, answered or not, as the words that a page shows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import pgettext_lazy

from assessments import wording
from assessments.measures.quiz import ASK, Choice, ItemAsked, ItemKind
from assessments.showing import Lines, Naming
from recipes import wording as recipe_wording
from recipes.grammar.aspects import Aspect

Parts = list[str]
"""A build without labels: its pours, mixers, glass, method and finish, each in one line."""

ORDER = (Aspect.POURS, Aspect.MIXERS, Aspect.GLASS, Aspect.METHOD, Aspect.FINISH)
"""What tells one drink from another first."""

LETTERS = (
    pgettext_lazy("a choice", "A"),
    pgettext_lazy("a choice", "B"),
    pgettext_lazy("a choice", "C"),
    pgettext_lazy("a choice", "D"),
)
"""How choices are called; an item has four at most."""


@dataclass(frozen=True)
class ChoiceShown:
    """An answer to pick: `text`, or for a whole build the `parts` that set it apart."""

    value: int
    letter: str
    text: str
    parts: Parts
    is_right: bool


@dataclass(frozen=True)
class ItemShown:
    """One item in words. `shown` is the build that a name-it item asks the name of, `alike` what
    the builds to choose from have in common: only the rest is worth comparing."""

    prompt: str
    choices: list[ChoiceShown]
    shown: Lines
    alike: Parts
    critical: bool
    why: str


def show_item(item: ItemAsked, naming: Naming) -> ItemShown:
    return _shown(item, naming, range(len(item.choices)))


@dataclass(frozen=True)
class Review:
    """An answer that wasn't right, beside the one that is. `given` is None for "I'd ask"."""

    item: ItemShown
    given: ChoiceShown | None
    right: ChoiceShown


def show_review(item: ItemAsked, naming: Naming, given: int) -> Review:
    """Of two builds only what differs."""
    picked = [item.right] if given == ASK else [given, item.right]
    shown = _shown(item, naming, picked)
    return Review(shown, None if given == ASK else shown.choices[0], shown.choices[-1])


def _shown(item: ItemAsked, naming: Naming, picked: Sequence[int]) -> ItemShown:
    builds = [_parts(item.choices[n], item, naming) for n in picked]
    several = builds if len(builds) > 1 else []
    alike = [part for part in builds[0] if several and all(part in b for b in several)]
    return ItemShown(
        prompt=wording.word(item.prompt),
        choices=[
            ChoiceShown(
                value=n,
                letter=str(LETTERS[n]),
                text=_text(item.choices[n], item, naming),
                parts=[part for part in build if part not in alike],
                is_right=n == item.right,
            )
            for n, build in zip(picked, builds, strict=True)
        ],
        shown=naming.build(item.shown) if item.shown else [],
        alike=alike,
        critical=item.critical,
        why=wording.word(item.why) if item.why else "",
    )


def _parts(choice: Choice, item: ItemAsked, naming: Naming) -> Parts:
    if item.kind is not ItemKind.WHOLE:
        return []
    return [_(", ").join(naming.aspect(a, choice.content[a.value])) for a in ORDER]


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
