"""A rota as it is pasted, a shift a line: who works, on which day, from when.

Whatever a line leaves open, or says in two ways, stays open: it is asked about, never guessed.
"""

import datetime as dt
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from assessments import rota_open
from recipes.grammar.course import fold
from recipes.grammar.reasons import Reason

_ISO = re.compile(r"\b(\d{4})-(\d{1,2})-(\d{1,2})\b")
_SLASHED = re.compile(r"\b(\d{1,2})/(\d{1,2})(?:/(\d{4}|\d{2}))?\b")
_DOTTED = re.compile(r"\b(\d{1,2})\.(\d{1,2})\.(\d{4}|\d{2})?(?!\d)")
_HOUR = re.compile(
    r"(?<!\d)(\d{1,2})(?:(?:[:.h]|(?<=\d\d)(?=(?:00|15|30|45)(?!\d)))(\d{2}))?"
    r"\s*(?:([ap])\.?m\b\.?)?(?!\d)",
    re.IGNORECASE,
)
"""Four figures are an hour where they end on a quarter: 0900, but 2026 is a year."""
_WORD = re.compile(r"[^\W\d_]+")


@dataclass(frozen=True)
class RotaWords:
    """How days are said in this house: words in lower case, weekdays from Monday 0, months from
    January 1; whether a month stands before its day; words for not working."""

    weekdays: Mapping[str, int]
    months: Mapping[str, int]
    month_first: bool = False
    off: frozenset[str] = frozenset({"off"})


@dataclass(frozen=True)
class RotaLine:
    """A shift as it was said; None for what nobody could tell, and why, in `left`. `who` is a key
    of the people. `is_off`: it says that somebody does not work."""

    said: str
    who: str | None
    day: dt.date | None
    hour: dt.time | None
    is_off: bool = False
    left: tuple[Reason, ...] = field(default=(), compare=False)

    @property
    def is_open(self) -> bool:
        return not self.is_off and None in (self.who, self.day, self.hour)


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
        if takes_it:
            line = replace(line, day=below)
        found.append(_with_what_is_left(line, people, words, now))
    return tuple(found)


def _with_what_is_left(
    line: RotaLine, people: Mapping[str, str], words: RotaWords, now: dt.datetime
) -> RotaLine:
    if not line.is_open:
        return line
    dates = list(dates_in(line.said, words, now.date()))
    rest = _without(line.said, dates)
    left = []
    if line.who is None:
        left.append(who_is_left(rest, people, words))
    if line.day is None:
        weekdays = {words.weekdays[w] for w in words_in(rest) if w in words.weekdays}
        left.append(rota_open.day([(line.said[a:b], day) for a, b, day in dates], weekdays))
    if line.hour is None:
        left.append(hour_is_left(rest))
    return replace(line, left=tuple(left))


def _line(said: str, people: Mapping[str, str], words: RotaWords, now: dt.datetime) -> RotaLine:
    dates = list(dates_in(said, words, now.date()))
    rest = _without(said, dates)
    weekdays = {words.weekdays[w] for w in words_in(rest) if w in words.weekdays}
    hour = hour_in(rest, by_24=says_dots(said))
    day = _day({d for _, _, d in dates}, weekdays, hour, now)
    is_off = not any(True for _ in hours_in(rest)) and _says_off(rest, words)
    return RotaLine(said, who_in(words_in(rest), people), day, hour, is_off)


def who_is_left(rest: str, people: Mapping[str, str], words: RotaWords) -> Reason:
    alike = [people[key] for key in who_among(words_in(rest), people)]
    return rota_open.who(names_in(rest, words), alike)


def hour_is_left(rest: str) -> Reason:
    for m in hours_in(rest):
        said, number, minute = m[0].strip(), int(m[1]), int(m[2] or 0)
        return rota_open.hour(said, number, minute, has_half=bool(m[3]))
    return rota_open.hour("", None, 0, has_half=False)


def _without(said: str, dates: Iterable[tuple[int, int, dt.date | None]]) -> str:
    for start, end, _ in sorted(dates, key=lambda d: d[0], reverse=True):
        said = f"{said[:start]} {said[end:]}"
    return said


def _says_off(rest: str, words: RotaWords) -> bool:
    """A word for it anywhere, or a mark at the end: a line in the middle only parts words."""
    said = [part.strip(".").casefold() for part in re.split(r"[\s,;|]+", rest) if part]
    return any(part in words.off for part in said) or bool(OFF_MARKS & set(said[-1:]))


OFF_MARKS = frozenset({"x", "-", "\u2013", "\u2014", "/"})
"""Cells and ends of lines that say as much as "off" (common practice, no source)."""


def names_in(rest: str, words: RotaWords) -> str:
    """What could be somebody's name: words that are none of a day, an hour or the rota's own."""
    other = {*words.weekdays, *words.months, *words.off, *_OTHER_WORDS}
    return " ".join(w for w in _WORD.findall(rest) if w.casefold() not in other)


_OTHER_WORDS = frozenset({"a", "p", "m", "am", "pm", "h", "to", "till", "until", "from", "close"})


def says_dots(said: str) -> bool:
    """Whether days are written as 28.11.: there the clock has 24 hours (common practice, no
    source)."""
    return any(int(m[2]) <= MONTHS for m in _DOTTED.finditer(said))


MONTHS = 12


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
            if month > MONTHS and pattern is _DOTTED and not m[3]:
                continue  # 9.30. is a time at the end of a sentence
            if month > MONTHS:  # it can only be the other way round
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


def hours_in(rest: str) -> list[re.Match[str]]:
    return [m for m in _HOUR.finditer(rest) if m[0].strip()]


def hour_in(rest: str, *, by_24: bool = False) -> dt.time | None:
    """The first hour of a line. An hour of one figure is of the morning or the evening: it is
    known where the line says which, where another hour of it is of a clock with 24 hours, and, with
    its minutes, where days are written as they are beside such a clock."""
    found = hours_in(rest)
    if not found:
        return None
    first = found[0]
    hour, minute, half = int(first[1]), int(first[2] or 0), (first[3] or "").casefold()
    if half:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if half == "p" else 0)
    elif any(m[3] for m in found):
        return None
    else:
        is_of_24 = (by_24 and first[2]) or any(12 < int(m[1]) < 24 for m in found)
        if len(first[1]) < 2 and hour and not is_of_24:
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
    best = who_among(said, people)
    return best[0] if len(best) == 1 else None


def who_among(said: Iterable[str], people: Mapping[str, str]) -> list[str]:
    """Keys of all whose names share most words with the line; none where nobody's shares one."""
    said = set(said)
    shared = {key: len(said & set(fold(name).split())) for key, name in people.items()}
    most = max(shared.values(), default=0)
    return [key for key, count in shared.items() if count == most] if most else []
