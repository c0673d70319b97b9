"""Words about a watched build, erased: the record stays whole without them."""

from __future__ import annotations

import datetime as dt
from enum import StrEnum

from django.db import transaction

from assessments import record_steps as steps
from assessments.models import Reply, Void, WatchedBuild
from barcourse.people import enrol
from barcourse.people.models import Membership, PersonalText
from barcourse.people.reasons import refuse
from barcourse.people.roles import May


class Words(StrEnum):
    """Which words of a build: the trainer's note, why it was voided, what the hire answered."""

    NOTE = "note"
    VOID = "void"
    ANSWER = "answer"


@transaction.atomic
def erase_words(*, by: Membership, watched: WatchedBuild, which: Words, at: dt.datetime) -> None:
    """The words go and their entry comes; marks and verdict stay. Whoever wrote them may, and who
    sees the log. Refuses where there are none."""
    steps.refuse_other_house(by, watched)
    found = _written(watched).get(which)
    text = PersonalText.objects.filter(venue=by.venue, code=found[0]).first() if found else None
    if found is None or text is None:
        raise refuse("no_words_there")
    if not _may_erase(by, found[1]):
        raise refuse("only_who_wrote_erases")
    enrol.erase_text(by=by, text=text, at=at)


def erasable(by: Membership, watched: WatchedBuild) -> set[str]:
    """Which words of this build somebody could erase now."""
    written = _written(watched)
    codes = [code for code, _author in written.values()]
    left = set(
        PersonalText.objects.filter(
            venue=watched.venue_id, code__in=codes, erased_at=None
        ).values_list("code", flat=True)
    )
    return {
        which.value
        for which, (code, author) in written.items()
        if code in left and _may_erase(by, author)
    }


def _may_erase(by: Membership, author: int) -> bool:
    return by.pk == author or by.may(May.SEE_LOG)


def _written(watched: WatchedBuild) -> dict[Words, tuple[str, int]]:
    """The code of the words and the key of whoever wrote them."""
    found = {}
    if watched.note_code:
        found[Words.NOTE] = (watched.note_code, watched.trainer_id)
    if void := Void.objects.filter(watched=watched).first():
        found[Words.VOID] = (void.reason_code, void.by_id)
    if reply := Reply.objects.to(watched).first():
        found[Words.ANSWER] = (reply.text_code, reply.hire_id)
    return found
