"""`manage.py simulate_learning [--days 21] [--minutes 10] [--seed N] [--venue SLUG] [--json]`

Rehearses weeks of learning: invented hires study the must-knows of the shipped course, or of a
house, so many minutes a day as *Next shift* plans them; their twins take the same must-knows in
rotation. Their memory is not the scheduler's model: `measures/invented_hire.py` says how it works.

`recall_must_know` and `recall_fixed_order` are the shares of must-knows known in every aspect the
day after the last day; `minutes_to_90` and `minutes_to_90_fixed_order` the minutes studied until
nine in ten are known the day after, null where that never comes; `brier` the mean square of stated
chance minus outcome over all drinks and days. `--plot FILE` writes the reliability plot as SVG.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import CommandError, CommandParser
from django.utils import timezone

from assessments.measures.rehearsal import Learned, Rehearsal, rehearse
from assessments.rehearsal_plot import plot
from barcourse.people.management.asking import AskingCommand
from barcourse.people.models import Venue
from recipes.grammar.drink import Drink, make_drink
from recipes.menu import NoRules, menu_at
from recipes.shipped import shipped_course, shipped_rules

DIGITS = 4
MOST_DAYS, MOST_MINUTES = 365, 480


class Command(AskingCommand):
    help = "Rehearses weeks of learning with invented hires, against the same drinks in rotation."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--days", default="21", help="of study (21)")
        parser.add_argument("--minutes", default="10", help="of study a day (10)")
        parser.add_argument("--seed", default="1", help="which hires (1)")
        parser.add_argument("--venue", default="", help="a house's must-knows, by its slug")
        parser.add_argument("--plot", default="", help="write the reliability plot to this SVG")
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, as_json: bool, **options: Any) -> None:
        days = int(_number("--days", options["days"], 1, MOST_DAYS, whole=True))
        minutes = _number("--minutes", options["minutes"], 1, MOST_MINUTES)
        seed = int(_number("--seed", options["seed"], 0, 2**63, whole=True))
        drinks = must_knows_of(options["venue"]) if options["venue"] else must_knows()
        found = rehearse(drinks, days=days, minutes=minutes, seed=seed)
        if options["plot"]:
            _write(Path(options["plot"]), plot(found.reliability))
        said = json.dumps(_values(found)) if as_json else _text(found, days, minutes)
        self.stdout.write(said)


def must_knows() -> list[Drink]:
    """Those of the shipped course, under the rules that come with it."""
    course, rules = shipped_course(), shipped_rules()
    pantry = {item.slug: item for item in course.ingredients}
    return [
        make_drink(
            slug=drink.slug, name=drink.name, module=module.slug, spec=drink.spec, rules=rules,
            pantry=pantry, aliases=drink.aliases, must_know=True, share=drink.share,
        )
        for module in course.modules
        for drink in module.drinks
        if drink.must_know
    ]  # fmt: skip


def must_knows_of(slug: str) -> list[Drink]:
    """Those on a house's menu now."""
    house = Venue.objects.filter(slug=slug).first()
    if house is None:
        _refuse(f"There is no house {slug!r}.")
    try:
        found = [item.drink for item in menu_at(house, timezone.now()).must_knows()]
    except NoRules:
        found = []
    if not found:
        _refuse(f"{house.name} has no must-knows on its menu.")
    return found


def _number(name: str, said: str, least: float, most: float, *, whole: bool = False) -> float:
    try:
        number = int(str(said)) if whole else float(str(said))
    except ValueError:
        _refuse(f"{name} takes a number, not {str(said)!r}.")
    if not least <= number <= most:
        _refuse(f"{name} goes from {least:g} to {most:g}.")
    return number


def _refuse(sentence: str) -> NoReturn:
    raise CommandError(sentence, returncode=2)


def _write(path: Path, svg: str) -> None:
    try:
        path.write_text(svg, encoding="utf-8")
    except OSError as error:
        _refuse(f"The plot can't be written to {path}: {error.strerror}.")


def _values(found: Rehearsal) -> dict[str, Any]:
    planned, rotation = found.planned, found.in_rotation
    return {
        "must_knows": found.must_knows,
        "recall_must_know": round(planned.recall[-1], DIGITS),
        "recall_fixed_order": round(rotation.recall[-1], DIGITS),
        "minutes_to_90": _rounded(planned.minutes_to_wanted),
        "minutes_to_90_fixed_order": _rounded(rotation.minutes_to_wanted),
        "brier": round(found.brier, DIGITS),
    }


def _rounded(minutes: float | None) -> float | None:
    return None if minutes is None else round(minutes, 1)


def _text(found: Rehearsal, days: int, minutes: float) -> str:
    lines = [
        f"{found.must_knows} must-knows, {days} days, at most {minutes:g} minutes a day.",
        f"As planned:  {_how_far(found.planned)}.",
        f"In rotation: {_how_far(found.in_rotation)}.",
        f"Brier score of what the program stated: {found.brier:.3f}.",
        "",
        "stated  came right  times",
        *(f"{b.stated:6.2f}  {b.came:10.2f}  {b.count:5d}" for b in found.reliability),
    ]
    return "\n".join([*lines, *_off(found)])


OFTEN, FAR = 100, 0.05
"""A bin with fewer drinks says little, and nearer than that is as good as stated."""


def _off(found: Rehearsal) -> list[str]:
    """Where the stated chance was off, in so many words, and why."""
    off = [b for b in found.reliability if b.count >= OFTEN and abs(b.came - b.stated) > FAR]
    if not off:
        return []
    said = ", ".join(f"{b.stated:.2f} came {b.came:.2f}" for b in off)
    return ["", f"Off by more than {FAR}: {said}.", WHY]


WHY = (
    "What is stated is set right by the cards that were turned. Those are the shaky ones, and the "
    "correction\nfollows slowly as drinks settle: in rehearsals .7 to .9 is stated some .05 to .1 "
    "too low, and a\ndrink is brought back a little too early."
)


def _how_far(learned: Learned) -> str:
    reached = learned.minutes_to_wanted
    when = "never 90 of 100" if reached is None else f"90 of 100 after {reached:.0f} minutes"
    known = f"{100 * learned.recall[-1]:.1f} of 100 known in every aspect the day after"
    return f"{known}, {learned.minutes[-1]:.0f} minutes studied; {when}"
