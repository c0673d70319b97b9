"""A rota as it is pasted, a shift a line: who works, on which day, from when.

Whatever a line leaves open, or says in two ways, stays open: it is asked about, never guessed.
"""

import datetime as dt
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from recipes.grammar.course import fold

_ISO = re.compile(r"\b(\d{4})-(\d{1,2})-(\d{1,2})\b")
_SLASHED = re.compile(r"\b(\d{1,2})/(\d{1,2})(?:/(\d{4}|\d{2}))?\b")
_DOTTED = re.compile(r"\b(\d{1,2})\.(\d{1,2})\.(\d{4}|\d{2})?(?!\d)")
_HOUR = re.compile(r"(?<!\d)(\d{1,2})(?:[:.h](\d{2}))?\s*(?:([ap])\.?m\b\.?)?(?!\d)", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d_]+")


@dataclass(frozen=True)
class RotaWords:
    """How days are said in this house: words in lower case, weekdays from Monday 0, months from
    January 1; whether a month stands before its day."""

    weekdays: Mapping[str, int]
    months: Mapping[str, int]
    month_first: bool = False


@dataclass(frozen=True)
class RotaLine:
    """A shift as it was said; None for what nobody could tell. `who` is a key of the people."""

    said: str
    who: str | None
    day: dt.date | None
    hour: dt.time | None

    @property
    def is_open(self) -> bool:
        return None in (self.who, self.day, self.hour)


def read_rota(
    text: str, *, people: Mapping[str, str], words: RotaWords, now: dt.datetime
) -> tuple[RotaLine, ...]:
    """The shifts of a text, in its order. `people` are names by key; `now` is on the house's clock.

    A line with a day alone says it for the lines below it that say none. Days without a year are
    those nearest to today; a weekday is the next one whose hour has not come yet.
    """
    found: list[RotaLine] = []
    below: dt.date | None = None
    for said in (" ".join(line.split()) for line in text.splitlines()):
        if not said:
            continue
        line = _line(said, people, words, now)
        if line.day and line.who is None and line.hour is None:
            below = line.day
            continue
        is_shift = line.who is not None or line.hour is not None
        takes_it = is_shift and line.day is None and not _says_a_day(said, words)
        found.append(RotaLine(said, line.who, below if takes_it else line.day, line.hour))
    return tuple(found)


def _line(said: str, people: Mapping[str, str], words: RotaWords, now: dt.datetime) -> RotaLine:
    dates = list(dates_in(said, words, now.date()))
    rest = said
    for start, end, _ in sorted(dates, reverse=True):
        rest = f"{rest[:start]} {rest[end:]}"
    weekdays = {words.weekdays[w] for w in words_in(rest) if w in words.weekdays}
    hour = hour_in(rest)
    day = _day({d for _, _, d in dates}, weekdays, hour, now)
    return RotaLine(said, who_in(words_in(rest), people), day, hour)


def _says_a_day(said: str, words: RotaWords) -> bool:
    return any(True for _ in dates_in(said, words, dt.date.min)) or any(
        w in words.weekdays for w in words_in(said)
    )


def words_in(said: str) -> list[str]:
    return [w.casefold() for w in _WORD.findall(said)]


def dates_in(
    said: str, words: RotaWords, today: dt.date
) -> Iterator[tuple[int, int, dt.date | None]]:
    """Where each date stands, and which it is; None for one that no calendar has."""
    for m in _ISO.finditer(said):
        yield m.start(), m.end(), _date(int(m[1]), int(m[2]), int(m[3]))
    for pattern, month_first in ((_SLASHED, words.month_first), (_DOTTED, False)):
        for m in pattern.finditer(said):
            month, day = (int(m[1]), int(m[2])) if month_first else (int(m[2]), int(m[1]))
            if month > 12:  # it can only be the other way round
                month, day = day, month
            yield m.start(), m.end(), _in_year(m[3], month, day, today)
    if words.months:
        names = "|".join(sorted(map(re.escape, words.months), key=len, reverse=True))
        named = rf"\b(\d{{1,2}})(?:\.|st|nd|rd|th)?\s+({names})\b|\b({names})\.?\s+(\d{{1,2}})\b"
        for m in re.finditer(named, said, re.IGNORECASE):
            name, number = (m[2], m[1]) if m[1] else (m[3], m[4])
            named_month = words.months[name.casefold()]
            yield m.start(), m.end(), _in_year(None, named_month, int(number), today)


def _in_year(year: str | None, month: int, day: int, today: dt.date) -> dt.date | None:
    if year:
        return _date(int(year) + (2000 if len(year) == 2 else 0), month, day)
    years = (y for y in (today.year - 1, today.year, today.year + 1) if y > 0)
    near = [found for y in years if (found := _date(y, month, day))]
    return min(near, key=lambda d: abs(d - today), default=None)


def _date(year: int, month: int, day: int) -> dt.date | None:
    try:
        return dt.date(year, month, day)
    except ValueError:
        return None


def hour_in(rest: str) -> dt.time | None:
    """The first hour of a line. An hour of one figure is of the morning or the evening: it is
    known where the line says which."""
    found = [m for m in _HOUR.finditer(rest) if m[0].strip()]
    if not found:
        return None
    first = found[0]
    hour, minute, half = int(first[1]), int(first[2] or 0), (first[3] or "").casefold()
    if half:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if half == "p" else 0)
    elif len(first[1]) < 2 or any(m[3] for m in found):
        return None
    return dt.time(hour, minute) if hour < 24 and minute < 60 else None


def _day(
    dates: Iterable[dt.date | None], weekdays: set[int], hour: dt.time | None, now: dt.datetime
) -> dt.date | None:
    """The one day that all of it agrees on."""
    dates = set(dates)
    if len(dates) > 1 or len(weekdays) > 1:
        return None
    if dates:
        [day] = dates
        return day if day and weekdays <= {day.weekday()} else None
    if not weekdays:
        return None
    [weekday] = weekdays
    ahead = (weekday - now.weekday()) % 7
    if ahead == 0 and hour is not None and hour <= now.time():
        ahead = 7
    return now.date() + dt.timedelta(days=ahead)


def who_in(said: Iterable[str], people: Mapping[str, str]) -> str | None:
    """Whose name shares most words with the line; nobody where two do alike."""
    said = set(said)
    shared = {key: len(said & set(fold(name).split())) for key, name in people.items()}
    most = max(shared.values(), default=0)
    best = [key for key, count in shared.items() if count == most]
    return best[0] if most and len(best) == 1 else None
