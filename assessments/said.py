"""All that a hire has said to entries of their record, and what became of it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import cast

from django.utils.translation import gettext as _

from assessments.models import Answered, AnswerSettled, Reply, Settled
from assessments.models.kinds import Entry
from barcourse.people.models import Membership, PersonalText


@dataclass(frozen=True)
class Spoken:
    """An answer. `words` is empty where they were erased; `settled` where a manager let the entry
    stand; `taken_back` the name of whoever took it back since."""

    entry: Entry
    at: dt.datetime
    words: str
    disagrees: bool
    settled: Settled | AnswerSettled | None
    taken_back: str

    @property
    def waits(self) -> bool:
        return self.disagrees and not (self.settled or self.taken_back)

    @property
    def became(self) -> str:
        """What was done about a disagreement; nothing is about an agreement."""
        if not self.disagrees:
            return ""
        if self.settled is not None:
            return _("%(name)s has heard both: it stands.") % {"name": self.settled.by.name}
        if self.taken_back:
            return _("taken back by %(name)s") % {"name": self.taken_back}
        return _("They see it differently. A manager looks at it.")


def said_by(hire: Membership) -> list[Spoken]:
    """Oldest first."""
    rows = [*Reply.objects.of(hire).with_all(), *Answered.objects.of(hire).with_all()]
    texts = PersonalText.objects.filter(code__in=[r.text_code for r in rows], erased_at=None)
    words = dict(texts.values_list("code", "text"))
    return sorted((_spoken(row, words) for row in rows), key=lambda spoken: spoken.at)


def _spoken(row: Reply | Answered, words: dict[str, str]) -> Spoken:
    entry = row.watched if isinstance(row, Reply) else cast("Entry", row.entry)
    void = getattr(entry, "void", None)
    return Spoken(
        entry=entry,
        at=row.at,
        words=words.get(row.text_code, ""),
        disagrees=row.disagrees,
        settled=getattr(row, "settled", None),
        taken_back=void.by.name if void else "",
    )


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
