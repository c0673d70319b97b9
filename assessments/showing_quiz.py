"""Quiz items, answered or not, as the words that a page shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from django.utils.translation import gettext as _

from assessments import wording, wording_items
from assessments.measures.quiz import ASK, BuildPart, Choice, Given, ItemAsked, ItemKind
from assessments.one_measure import in_one_measure
from assessments.showing import Lines, Naming
from assessments.wording_items import LETTERS, CardShown, part_label
from recipes import wording as recipe_wording
from recipes.grammar.aspects import Aspect

__all__ = ["ChoiceShown", "ItemShown", "Review", "part_label", "show_item", "show_review"]

Parts = list[str]
"""A build without labels: its pours, mixers, glass, method and finish, each in one line."""

ORDER = (Aspect.POURS, Aspect.MIXERS, Aspect.GLASS, Aspect.METHOD, Aspect.FINISH)
"""What tells one drink from another first."""


@dataclass(frozen=True)
class ChoiceShown:
    """An answer to pick: `text`, or for a whole build the `parts` that set it apart. `picked`: it
    was picked already, `place` the place that it was given, on a form that is shown again."""

    value: int
    letter: str
    text: str
    parts: Parts
    is_right: bool
    picked: bool = False
    place: int = 0


@dataclass(frozen=True)
class PartShown:
    """One of the choices that make a build: its `name` in the form, and what to choose from."""

    name: str
    label: str
    choices: list[ChoiceShown]


@dataclass(frozen=True)
class ItemShown:
    """One item in words. `shown` is the build that a name-it item asks the name of, `alike` what
    the builds to choose from have in common: only the rest is worth comparing. `places` are the
    places of what is put in order, `card` the identity card that lies on the bar,
    `said` what a guest calls, in the words that the house's calls are made of."""

    kind: str
    prompt: str
    choices: list[ChoiceShown]
    shown: Lines
    alike: Parts
    critical: bool
    why: str
    parts: list[PartShown] = field(default_factory=list)
    places: list[int] = field(default_factory=list)
    card: CardShown | None = None
    said: str = ""

    @property
    def is_order(self) -> bool:
        return self.kind == ItemKind.ORDER

    @property
    def is_several(self) -> bool:
        return self.kind == ItemKind.SEVERAL

    @property
    def is_about_law(self) -> bool:
        """Whether local law and licensed training have the last word on it."""
        return self.kind in (ItemKind.SCENARIO, ItemKind.CARD)


def show_item(
    item: ItemAsked, naming: Naming, typed: Mapping[str, Sequence[str]] | None = None
) -> ItemShown:
    """`typed` are the fields of a form that is shown again."""
    shown = _shown(item, naming, range(len(item.choices)))
    return _as_typed(shown, typed) if typed else shown


def _as_typed(shown: ItemShown, typed: Mapping[str, Sequence[str]]) -> ItemShown:
    def picked(choice: ChoiceShown, name: str) -> ChoiceShown:
        place = "".join(typed.get(f"place-{choice.value}", [""])[:1])
        said = str(choice.value) in typed.get(name, [])
        return replace(choice, picked=said, place=int(place) if place in PLACES else 0)

    return replace(
        shown,
        choices=[picked(c, "choice") for c in shown.choices],
        parts=[
            replace(part, choices=[picked(c, part.name) for c in part.choices])
            for part in shown.parts
        ],
    )


PLACES = frozenset("123456")


@dataclass(frozen=True)
class Review:
    """An answer that wasn't right, beside the one that is. `given` is empty for "I'd ask", and
    where nobody answered (`is_open`)."""

    item: ItemShown
    given: list[ChoiceShown]
    right: list[ChoiceShown]
    is_open: bool = False


def show_review(item: ItemAsked, naming: Naming, given: Given | None) -> Review:
    """Of two builds only what differs. None: the time was up before there was an answer."""
    if given is None:
        return replace(show_review(item, naming, ASK), is_open=True)
    if item.takes_several:
        return _review_of_several(item, naming, given)
    picked = [item.right] if given == ASK else [int(str(given)), item.right]
    shown = _shown(item, naming, picked)
    return Review(shown, [] if given == ASK else shown.choices[:1], shown.choices[-1:])


def _review_of_several(item: ItemAsked, naming: Naming, given: Given) -> Review:
    shown = show_item(item, naming)
    said = () if isinstance(given, int) else given
    if item.kind is not ItemKind.BUILD:
        right = [shown.choices[n] for n in item.rights]
        return Review(shown, [shown.choices[n] for n in said], right)
    wrong = [n for n, part in enumerate(item.parts) if not said or said[n] != part.right]
    return Review(
        shown,
        [shown.parts[n].choices[said[n]] for n in wrong] if said else [],
        [shown.parts[n].choices[item.parts[n].right] for n in wrong],
    )


def _shown(item: ItemAsked, naming: Naming, picked: Sequence[int]) -> ItemShown:
    item = replace(item, choices=tuple(_side_by_side(item, naming)))
    builds = [_parts(item.choices[n], item, naming) for n in picked]
    several = builds if len(builds) > 1 else []
    alike = [part for part in (builds or [[]])[0] if several and all(part in b for b in several)]
    is_card = item.kind is ItemKind.CARD
    return ItemShown(
        kind=item.kind,
        prompt=wording.word(wording_items.named(item.prompt, naming.names)),
        choices=[
            ChoiceShown(
                value=n,
                letter=str(LETTERS[n]) if n < len(LETTERS) else "",
                text=wording_items.text(item.choices[n], item, naming),
                parts=[part for part in build if part not in alike],
                is_right=n in item.rights if item.takes_several else n == item.right,
            )
            for n, build in zip(picked, builds, strict=True)
        ],
        shown=naming.build(item.shown) if item.shown and not is_card else [],
        alike=alike,
        critical=item.critical,
        why=wording.word(item.why) if item.why else "",
        parts=[_part(n, part, naming) for n, part in enumerate(item.parts)],
        places=list(range(1, len(item.choices) + 1)) if item.kind is ItemKind.ORDER else [],
        card=wording_items.card(item.shown) if item.shown and is_card else None,
        said=item.said,
    )


def _side_by_side(item: ItemAsked, naming: Naming) -> list[Choice]:
    """What is chosen from, with pours in one measure."""
    if item.kind is ItemKind.ASPECT and item.aspect is Aspect.POURS:
        told = in_one_measure([c.content for c in item.choices], naming.country)
        return [replace(c, content=t) for c, t in zip(item.choices, told, strict=True)]
    if item.kind is ItemKind.WHOLE:
        told = in_one_measure([c.content[Aspect.POURS] for c in item.choices], naming.country)
        return [
            replace(c, content={**c.content, Aspect.POURS.value: t})
            for c, t in zip(item.choices, told, strict=True)
        ]
    return list(item.choices)


def _part(number: int, part: BuildPart, naming: Naming) -> PartShown:
    contents = [c.content for c in part.choices]
    if part.aspect is Aspect.POURS:
        contents = in_one_measure(contents, naming.country)
    choices = [
        ChoiceShown(n, "", _(", ").join(naming.aspect(part.aspect, c)), [], n == part.right)
        for n, c in enumerate(contents)
    ]
    return PartShown(f"part-{number}", recipe_wording.label(part.aspect), choices)


def _parts(choice: Choice, item: ItemAsked, naming: Naming) -> Parts:
    if item.kind is not ItemKind.WHOLE:
        return []
    return [_(", ").join(naming.aspect(a, choice.content[a.value])) for a in ORDER]
