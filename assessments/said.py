"""All that a hire has said to entries of their record, and what became of it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments.models import Answered, AnswerSettled, Reply, Settled
from assessments.models.heard import settles
from assessments.models.kinds import Entry
from assessments.voids import row_of
from barcourse.people.models import Membership, PersonalText


@dataclass(frozen=True)
class Spoken:
    """An answer. `words` is empty where they were erased; `waits` says whether a manager still has
    to hear both, `became` what was done about it."""

    entry: Entry
    at: dt.datetime
    words: str
    disagrees: bool
    settled: Settled | AnswerSettled | None
    waits: bool
    became: str


def said_by(hire: Membership) -> list[Spoken]:
    """Oldest first."""
    rows = [*Reply.objects.of(hire).with_all(), *Answered.objects.of(hire).with_all()]
    texts = PersonalText.objects.filter(code__in=[r.text_code for r in rows], erased_at=None)
    words = dict(texts.values_list("code", "text"))
    return sorted((_spoken(row, words) for row in rows), key=lambda spoken: spoken.at)


def _spoken(row: Reply | Answered, words: dict[str, str]) -> Spoken:
    entry = row.watched if isinstance(row, Reply) else row.entry
    return Spoken(
        entry=entry,
        at=row.at,
        words=words.get(row.text_code, ""),
        disagrees=row.disagrees,
        settled=_settled(row),
        waits=still_waits(row, entry),
        became=became(row, entry),
    )


def still_waits(row: Reply | Answered, entry: Entry) -> bool:
    """Whether a manager has neither heard both nor taken the entry back since."""
    void = row_of(entry)
    if not row.disagrees or _settled(row):
        return False
    return void is None or not settles(void, entry, row.at)


def became(row: Reply | Answered, entry: Entry) -> str:
    """What was done about a disagreement; nothing is about an agreement."""
    if not row.disagrees:
        return ""
    settled, void = _settled(row), row_of(entry)
    taken_back = _("Taken back by %(name)s.") % {"name": void.by.name} if void else ""
    if settled and void and void.at <= settled.at:
        heard = _("%(name)s has heard both: it stays taken back.") % {"name": settled.by.name}
        return f"{taken_back} {heard}"
    if settled:
        heard = _("%(name)s has heard both: it stands.") % {"name": settled.by.name}
        return " ".join(filter(None, (heard, taken_back)))
    if not still_waits(row, entry):
        return taken_back
    waits = _("They see it differently. A manager looks at it.")
    return " ".join(filter(None, (taken_back, waits)))


def _settled(row: Reply | Answered) -> Settled | AnswerSettled | None:
    return getattr(row, "settled", None)


def in_a_word(spoken: Iterable[Spoken]) -> dict[str, str]:
    """By the code of an entry, a word for lists: whether its hire sees it differently, or has said
    something to it."""
    by_entry: dict[str, list[Spoken]] = {}
    for one in spoken:
        by_entry.setdefault(one.entry.code, []).append(one)
    return {code: _word(rows) for code, rows in by_entry.items()}


def _word(rows: list[Spoken]) -> str:
    if any(row.waits for row in rows):
        return _("seen differently, a manager looks at it")
    if any(row.settled for row in rows):
        return _("seen differently, it stands")
    return _("seen differently") if any(row.disagrees for row in rows) else _("answered")
