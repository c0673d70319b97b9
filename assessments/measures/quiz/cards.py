"""Invented identity cards: old enough, in date, and whose is it?

Age counts by the calendar, not by the business day: at ten past midnight on a birthday somebody is
of age, at twenty to it they are not. What counts as proof of age, and from which age, is local
law; licensed training decides. Nobody here is a person and no card is of any place.
"""

import datetime as dt
from dataclasses import dataclass
from enum import StrEnum
from random import Random
from typing import Any

from recipes.grammar.aspects import Content


class Case(StrEnum):
    """What is to be seen on a card; in this order they are dealt."""

    LAST_DAY = "last_day"  # comes of age tomorrow, twenty minutes from now
    BORROWED = "borrowed"
    VALID = "valid"
    EXPIRED = "expired"
    TOO_YOUNG = "too_young"
    BIRTHDAY = "birthday"  # came of age at midnight


class Ruling(StrEnum):
    SERVE = "serve"
    TOO_YOUNG = "too_young"
    EXPIRED = "expired"
    NOT_THEIRS = "not_theirs"


FEATURES: dict[str, tuple[str, ...]] = {
    "hair": ("short_dark", "long_fair", "curly_red", "shaved"),
    "brows": ("straight", "arched"),
    "ears": ("close", "wide"),
    "chin": ("round", "pointed", "cleft"),
}
CHANGES = frozenset({"hair"})
"""Hair changes; brows, ears and chin don't."""

Face = dict[str, str]


@dataclass(frozen=True)
class Card:
    """What lies on the bar and who stands before it. `now` is the clock on the house's wall."""

    born: dt.date
    valid_until: dt.date
    photo: Face
    guest: Face
    now: dt.datetime


def age_on(born: dt.date, day: dt.date) -> int:
    """Full years by the calendar. Somebody born on 29 February comes of age on 1 March here, as
    the later of the two days that laws name."""
    had_it = (day.month, day.day) >= (born.month, born.day)
    return day.year - born.year - (0 if had_it else 1)


def rule(card: Card, legal_age: int) -> Ruling:
    """What the card says, first whose it is, then whether it holds, then the age. A card is valid
    through its last day."""
    if any(card.photo[f] != card.guest[f] for f in FEATURES if f not in CHANGES):
        return Ruling.NOT_THEIRS
    if card.now.date() > card.valid_until:
        return Ruling.EXPIRED
    if age_on(card.born, card.now.date()) < legal_age:
        return Ruling.TOO_YOUNG
    return Ruling.SERVE


def deal(case: Case, legal_age: int, today: dt.date, random: Random) -> Card:
    """A card of this case with at most one thing wrong, seeded, on some day of the half year before
    today: of two people side by side neither the date of birth nor the clock is an answer for the
    other."""
    photo = {f: random.choice(options) for f, options in FEATURES.items()}
    guest = {**photo, "hair": random.choice(FEATURES["hair"])}
    if case is Case.BORROWED:
        for feature in random.sample(sorted(set(FEATURES) - CHANGES), 2):
            guest[feature] = random.choice([x for x in FEATURES[feature] if x != photo[feature]])
    now = _clock(case, today, random)
    return Card(
        born=_born(case, legal_age, now.date(), random),
        valid_until=_until(case, now.date(), random),
        photo=photo,
        guest=guest,
        now=now,
    )


DAYS_BACK = 180
"""From so many days a card's day is drawn (our own number, no source)."""

_LEAPS = frozenset({(2, 27), (2, 28), (2, 29), (3, 1)})
"""About these laws differ for who was born on the 29th: no card is dealt on them."""


def _clock(case: Case, today: dt.date, random: Random) -> dt.datetime:
    """On the edge of midnight where the case turns on it, and as often where it does not: the hour
    alone says nothing."""
    before, after = dt.time(23, random.randrange(35, 58)), dt.time(0, random.randrange(2, 40))
    evening = dt.time(random.randrange(18, 23), random.randrange(60))
    match case:
        case Case.LAST_DAY:
            at = before
        case Case.BIRTHDAY:
            at = after
        case _:
            at = random.choice((evening, before, after))
    days = (today - dt.timedelta(days=n) for n in range(DAYS_BACK))
    day = random.choice([d for d in days if (d.month, d.day) not in _LEAPS])
    return dt.datetime.combine(day, at)


def _born(case: Case, legal_age: int, day: dt.date, random: Random) -> dt.date:
    match case:
        case Case.LAST_DAY:
            return years_before(day + dt.timedelta(days=1), legal_age)
        case Case.BIRTHDAY:
            return years_before(day, legal_age)
        case Case.TOO_YOUNG:
            return years_before(day, legal_age) + dt.timedelta(days=random.randrange(20, 300))
    older = legal_age + random.randrange(3)
    return years_before(day, older) - dt.timedelta(days=random.randrange(10, 300))


def years_before(day: dt.date, years: int) -> dt.date:
    """The birthday on which somebody turns so many years on that day; of 29 February 1 March."""
    try:
        return day.replace(year=day.year - years)
    except ValueError:
        return dt.date(day.year - years, 3, 1)


def _until(case: Case, day: dt.date, random: Random) -> dt.date:
    if case is Case.EXPIRED:
        return day - dt.timedelta(days=random.randrange(1, 60))
    return day + dt.timedelta(days=random.randrange(0, 1500))


def content_of(card: Card, legal_age: int) -> Content:
    """The card as an item stores it."""
    return {
        "born": card.born.isoformat(),
        "valid_until": card.valid_until.isoformat(),
        "photo": card.photo,
        "guest": card.guest,
        "now": card.now.isoformat(timespec="minutes"),
        "legal_age": legal_age,
    }


def card_from(content: Content | dict[str, Any]) -> tuple[Card, int]:
    """The card that `content_of` stored, with the age that the house went by."""
    card = Card(
        born=dt.date.fromisoformat(content["born"]),
        valid_until=dt.date.fromisoformat(content["valid_until"]),
        photo=dict(content["photo"]),
        guest=dict(content["guest"]),
        now=dt.datetime.fromisoformat(content["now"]),
    )
    return card, int(content["legal_age"])
