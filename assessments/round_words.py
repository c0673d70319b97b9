"""A whole round in words: its steps in the best order, and what was done beside it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments.measures import rounds, rounds_done
from assessments.models import WatchedBuild, WatchedRound
from assessments.wording import word
from assessments.wording_practical import ACTS
from recipes.grammar.spec import Method
from recipes.grammar.steps import CHOICE
from recipes.menu import Menu
from recipes.wording import label
from recipes.words_aspects import either

TIMES = "\N{MULTIPLICATION SIGN}"


@dataclass(frozen=True)
class StepOfRound:
    """A step of a round in words: for which drinks, empty for all of them; where it stood in what
    was done, None where nobody has said; and whether that was out of turn."""

    key: str
    does: str
    drinks: str
    place: int | str | None = None
    moved: bool = False

    @property
    def in_full(self) -> str:
        """With the drinks it is for: two steps may do the same for others."""
        return f"{self.does}, {self.drinks}" if self.drinks else self.does


def show_steps(
    steps: Sequence[rounds.RoundStep],
    names: Sequence[str],
    menu: Menu,
    places: Mapping[str, int | str],
    moved: Sequence[rounds.RoundStep] = (),
) -> list[StepOfRound]:
    """`names` are those of the drinks; `places` where a step stood, from 1, by its key, or what was
    typed there."""
    return [
        StepOfRound(
            key=step.key,
            does=_does(step, menu),
            drinks=_for(step, names),
            place=places.get(step.key),
            moved=step in moved,
        )
        for step in steps
    ]


def _for(step: rounds.RoundStep, names: Sequence[str]) -> str:
    if len(step.drinks) == len(names):
        return ""
    return in_words([names[n] for n in step.drinks])


def in_words(names: Sequence[str]) -> str:
    """Drinks of a round, those alike counted: two of one, one of another."""
    counted = Counter(names).items()
    return _(", ").join(f"{n} {TIMES} {name}" if n > 1 else name for name, n in counted)


def _does(step: rounds.RoundStep, menu: Menu) -> str:
    if step.act is rounds.Act.MIX:
        return label(Method(step.item)).capitalize()
    if step.act is rounds.Act.BOTTLE and len(step.drinks) == 1:
        return _("Pour %(item)s") % {"item": menu.names.get(step.item, step.item)}
    items = [menu.names.get(item, item) for item in step.item.split(CHOICE)]
    return str(ACTS[step.act]) % {"item": either(items)}


@dataclass(frozen=True)
class RoundShown:
    """`turns`: a sentence for each step out of turn, with where it belongs."""

    round: WatchedRound
    drinks: str
    builds: list[WatchedBuild]
    steps: list[StepOfRound]
    says: list[str]
    turns: list[str]


def show_round(row: WatchedRound, menu: Menu) -> RoundShown:
    built = {b.code: b for b in WatchedBuild.objects.of(row.hire).with_all().coded(row.builds)}
    builds = [built[code] for code in row.builds]
    best = [rounds.RoundStep(rounds.Act(a), item, tuple(d)) for a, item, d in row.steps]
    by_key = {step.key: step for step in best}
    found = rounds_done.compare(best, [by_key[key] for key in row.done], row.picked_up_again)
    places = {key: number for number, key in enumerate(row.done, start=1)}
    names = [b.recipe.name for b in builds]
    return RoundShown(
        row,
        in_words(names),
        builds,
        show_steps(best, names, menu, places, found.moved),
        [word(r) for r in found.reasons],
        [_turn(turn, names, menu) for turn in found.turns],
    )


def _turn(turn: rounds_done.OutOfTurn, names: Sequence[str], menu: Menu) -> str:
    step, beside = show_steps([turn.step, turn.beside], names, menu, {})
    values = {"step": step.in_full, "beside": beside.in_full}
    if turn.late:
        return _("Late: “%(step)s”. Best before “%(beside)s”.") % values
    if turn.last:
        return _("Early: “%(step)s”. It comes last, right after “%(beside)s”.") % values
    return _("Early: “%(step)s”. Best right after “%(beside)s”.") % values
