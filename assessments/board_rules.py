"""The house rules that several drinks of a board go by, and what each says, in words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from django.utils.translation import get_language
from numpy.typing import NDArray

from assessments.history import Numbered
from recipes.grammar.aspects import Aspect
from recipes.kept import Kept
from recipes.menu import MenuDrink
from recipes.words_rule_topics import rule_says


class SaidRule(NamedTuple):
    """`topic` is its number; `drink` the one that sells most of the `drinks` drinks that go by it,
    and `says` what the rule says of it."""

    topic: int
    aspect: Aspect
    drink: str
    says: str
    drinks: int


Shared = tuple[list[SaidRule], NDArray[np.bool_]]


def shared_rules(items: Sequence[MenuDrink], numbered: Numbered) -> Shared:
    """Rules that two drinks or more go by; and by rule and drink whether it goes by it. Worked out
    once for the same drinks of the same menu: they are the same for everybody."""
    of_menu = numbered.menu.items
    key = (id(of_menu), tuple(item.drink.slug for item in items), get_language())
    _of_menu, found = _SHARED.get(key, lambda: (of_menu, _shared(items, numbered)))
    return found


_SHARED = Kept[tuple[int, tuple[str, ...], str | None], tuple[Sequence[MenuDrink], Shared]](most=50)
"""By the menu's items, which they hold: while they are kept no others can have their id."""


def _shared(items: Sequence[MenuDrink], numbered: Numbered) -> Shared:
    drinks: dict[int, list[int]] = defaultdict(list)
    rules: dict[int, tuple[Aspect, str]] = {}
    for at, item in enumerate(items):
        for topic in item.drink.topics:
            if topic.rule:
                number = numbered.topics[topic.fingerprint]
                drinks[number].append(at)
                rules[number] = topic.aspect, topic.rule
    wide = {number: at for number, at in drinks.items() if len(at) > 1}
    uses = np.zeros((len(wide), len(items)), dtype=bool)
    said = []
    for row, (number, of) in enumerate(wide.items()):
        uses[row, of] = True
        most = max((items[at].drink for at in of), key=lambda d: (d.share, d.slug))
        aspect, rule = rules[number]
        says = rule_says(rule, most.spec, numbered.menu)
        said.append(SaidRule(number, aspect, most.name, says, len(of)))
    return said, uses
