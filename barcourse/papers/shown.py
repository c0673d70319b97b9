"""What a hire had shown when a certificate was issued, as the sealed row keeps it.

No names of people. Drinks, modules and the station carry the names they had that day, so that the
paper says the same for as long as it hangs.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any


@dataclass(frozen=True)
class SignedDrink:
    """A drink signed off unprompted on the spec of the day of issue; `day` in ISO."""

    slug: str
    name: str
    revision: int
    day: str


@dataclass(frozen=True)
class PassedModule:
    """A module without which nobody is ready, and the business day on which it was passed."""

    slug: str
    name: str
    day: str


@dataclass(frozen=True)
class OfHundred:
    """Of 100 orders, in whole orders: right, with the ends of its 90 % interval, ask, wrong.

    `least_right` and `most_wrong` are what the house asked for on the day.
    """

    right: int
    right_low: int
    right_high: int
    ask: int
    wrong: int
    least_right: int
    most_wrong: int
    provisional: bool


@dataclass(frozen=True)
class Shown:
    station: str
    drinks: tuple[SignedDrink, ...]
    modules: tuple[PassedModule, ...]
    orders: OfHundred

    def to_json(self) -> dict[str, Any]:
        return asdict(self)

    @classmethod
    def from_json(cls, data: dict[str, Any]) -> Shown:
        return cls(
            station=data["station"],
            drinks=tuple(SignedDrink(**drink) for drink in data["drinks"]),
            modules=tuple(PassedModule(**module) for module in data["modules"]),
            orders=OfHundred(**data["orders"]),
        )
