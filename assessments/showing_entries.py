"""An entry in somebody's record as its page tells it, and what was said to it since."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments.models import (
    Answered,
    PaceCheck,
    PourCheck,
    SpotMark,
    WatchedBuild,
    WatchedRound,
)
from assessments.models.kinds import KINDS, Entry, kind_of
from assessments.said import became
from assessments.voids import VoidShown, voids_of
from barcourse.people.models import Membership, PersonalText, Venue
from barcourse.people.roles import May

_BESIDE = {"spot": "recipe", "pours": "ingredient", "pace": "station", "build": "recipe"}


def find(venue: Venue, code: str) -> Entry | None:
    """The entry of this house, of whatever kind, or none: a code is never given twice."""
    for kind, model in KINDS.items():
        rows = model._default_manager.filter(venue=venue, code=code)
        beside = [_BESIDE[kind]] if kind in _BESIDE else []
        found = rows.select_related("hire__person", "trainer__person", *beside).first()
        if found is not None:
            return found
    return None


@dataclass(frozen=True)
class Said:
    """An answer in its words, which may have been erased, and what was done about it."""

    answer: Answered
    words: str
    may_erase: bool
    became: str


def answers_to(entry: Entry, reader: Membership) -> list[Said]:
    """Oldest first."""
    rows = list(Answered.objects.about(kind_of(entry), entry))
    words = _words(row.text_code for row in rows)
    return [
        Said(row, words.get(row.text_code, ""), _may_erase(reader, row, words), became(row, entry))
        for row in rows
    ]


def heading(entry: Entry) -> str:
    """What it is about."""
    match entry:
        case SpotMark() | WatchedBuild():
            return str(entry.recipe.name)
        case PourCheck():
            bottle = entry.ingredient.name if entry.ingredient else ""
            return _("Pour check: %(bottle)s") % {"bottle": bottle}
        case PaceCheck():
            return _("Pace: %(station)s") % {"station": entry.station.name}
        case WatchedRound():
            return _("A round of %(count)s") % {"count": len(entry.builds)}


def came(entry: Entry) -> str:
    """How a drink went out in service; the other entries have pages that say how they came."""
    if not isinstance(entry, SpotMark):
        return ""
    said = str(entry.get_came_display())
    return _("sent back by a guest; %(came)s") % {"came": said} if entry.sent_back else said


@dataclass(frozen=True)
class Disagreement:
    """An answer that waits for a manager; `void` where the entry was taken back by somebody whose
    void doesn't settle it."""

    answer: Answered
    kind: str
    about: str
    words: str
    void: VoidShown | None

    @property
    def entry(self) -> Entry:
        return self.answer.entry


def disagreements(venue: Venue, at: dt.datetime) -> list[Disagreement]:
    rows = Answered.objects.in_house(venue).disagreeing(at).select_related(
        "hire__person", "spot__recipe", "spot__trainer__person", "pours__ingredient",
        "pours__trainer__person", "pace__station", "pace__trainer__person",
        "round__trainer__person", "build__recipe", "build__trainer__person",
        *(f"{kind}__void__by__person" for kind in KINDS),
    ).order_by("at", "pk")  # fmt: skip
    found = list(rows)
    words = _words(row.text_code for row in found)
    entries: list[Entry] = [row.entry for row in found]
    return [
        Disagreement(row, row.kind, heading(entry), words.get(row.text_code, ""), void)
        for row, entry, void in zip(found, entries, voids_of(entries), strict=True)
    ]


def _words(codes: Iterable[str]) -> dict[str, str]:
    texts = PersonalText.objects.filter(code__in=list(codes), erased_at=None)
    return dict(texts.values_list("code", "text"))


def _may_erase(reader: Membership, row: Answered, words: dict[str, str]) -> bool:
    return row.text_code in words and (row.hire_id == reader.pk or reader.may(May.SEE_LOG))
