"""`manage.py simulate_readiness --people 400 --seed N --world model|fast|slow|noisy|told
[--rows FILE.csv] [--json]`

How well readiness is told of simulated hires, whose truth is known. Exit 2 with one line on stderr
where the question makes no sense. Shares are from 0 to 1. `--rows` writes a line a hire, all digits
of it, from which every share can be reckoned anew.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict
from pathlib import Path
from typing import Any, TextIO

from django.core.management.base import CommandError, CommandParser

from assessments.measures.readiness_proof import ABOVE, BAR, Proof, Told, compare, tell
from assessments.measures.simulated_hires import WORLDS
from barcourse.people.management.asking import AskingCommand

FEWEST, MOST_PEOPLE = 10, 20_000
MOST_SEED = 2**63 - 1
DIGITS = 4

ROW = ("person", "truth", "right", "low", "high", "standing", "answers", "builds")
"""The columns of `--rows`: the share of orders truly right, what is told of it, and how the hire
would stand by orders alone; how many answers and builds that rests on."""


class Command(AskingCommand):
    requires_system_checks: list[str] = []
    help = "Simulates hires whose truth is known, and says how well readiness is told of them."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--people", default="400", help="how many hires")
        parser.add_argument("--seed", default="1", help="the same seed, the same hires")
        parser.add_argument("--world", default="model", help=f"one of {', '.join(WORLDS)}")
        parser.add_argument("--rows", default="", help="write a line a hire to this CSV")
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, as_json: bool, **options: Any) -> None:
        world = options["world"]
        if world not in WORLDS:
            raise _refused(f"There is no world {world!r}; there are {', '.join(WORLDS)}.")
        people = _number("--people", options["people"], FEWEST, MOST_PEOPLE)
        seed = _number("--seed", options["seed"], 0, MOST_SEED)
        with _open(options["rows"]) as file:
            told = tell(people, seed, world)
            if file:
                csv.writer(file, lineterminator="\n").writerows([ROW, *_rows(told)])
        found = compare(told, seed, world)
        self.stdout.write(json.dumps(_values(found)) if as_json else _text(found))


def _number(option: str, said: str, least: int, most: int) -> int:
    """A whole number, read here: the parser's own refusal takes more than a line."""
    try:
        number = int(said)
    except ValueError:
        raise _refused(f"{option} is a whole number, not {said!r}.") from None
    if not least <= number <= most:
        raise _refused(f"{option} goes from {least} to {most}.")
    return number


def _refused(sentence: str) -> CommandError:
    return CommandError(sentence, returncode=2)


@contextmanager
def _open(path: str) -> Iterator[TextIO | None]:
    """Before anything is reckoned, since that takes a while; None where no rows are wanted."""
    if not path:
        yield None
        return
    try:
        with Path(path).open("w", encoding="utf-8", newline="") as file:
            yield file
    except OSError as error:
        raise _refused(f"The rows can't be written to {path}: {error.strerror}.") from None


def _rows(told: Told) -> Iterator[tuple[object, ...]]:
    each = zip(told.house.right, told.right, told.low, told.high, told.called, strict=True)
    for person, (truth, right, low, high, called) in enumerate(each, start=1):
        shares = (float(share) for share in (truth, right, low, high))
        standing = "ready" if called else "not_yet"
        yield person, *shares, standing, told.answers, told.builds


def _values(found: Proof) -> dict[str, Any]:
    return {k: round(v, DIGITS) if isinstance(v, float) else v for k, v in asdict(found).items()}


def _text(found: Proof) -> str:
    parameters = "\n".join(_lines(found.parameters))
    return f"""\
{found.people} hires, truly right {found.truth_p10:.2f} (10th of a hundred) to \
{found.truth_p90:.2f} (90th).
The 90 % interval holds the truth for {found.covered_share:.3f} of them.
It is {found.mean_width:.3f} wide; the best one for all alike is {found.best_constant_width:.3f}.
Called ready and truly below {BAR:.2f}: {_share(found.ready_below_bar_share)}.
Truly {ABOVE:.2f} above and called ready: {_share(found.ready_found_share)}.
Parameters:
{parameters}"""


def _share(share: float | None) -> str:
    return "nobody to count" if share is None else f"{share:.3f}"


def _lines(values: dict[str, Any], before: str = "  ") -> list[str]:
    found = []
    for name, value in values.items():
        if isinstance(value, dict):
            found += [f"{before}{name}:", *_lines(value, before + "  ")]
        else:
            found.append(f"{before}{name}: {value}")
    return found
