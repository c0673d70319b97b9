"""What a hire says to an entry in their record, and what becomes of it: to a mark in service,
pours, pace, a round; and to a watched build after the first answer.

Each verb is one transaction with its entry in the log; none changes what it is about.
"""

from __future__ import annotations

import datetime as dt

from django.db import transaction

from assessments import record_steps as steps
from assessments.models import Answered, AnswerSettled
from assessments.models.kinds import Entry, kind_of
from barcourse.people import enrol, log
from barcourse.people.models import Membership, PersonalText
from barcourse.people.reasons import refuse
from barcourse.people.roles import May


@transaction.atomic
def answer(
    *, by: Membership, entry: Entry, words: str, disagrees: bool, at: dt.datetime
) -> Answered:
    """What a hire says to an entry of theirs. A disagreement goes to the managers."""
    if entry.hire_id != by.pk:
        raise refuse("not_your_record")
    if not words.strip():
        raise refuse("answer_needs_words", "words")
    steps.lock_entry(entry)
    text = log.keep_text(about=by, text=words.strip())
    row = Answered.objects.create(
        venue=by.venue, hire=by, disagrees=disagrees, text_code=text.code, at=at,
        **{kind_of(entry): entry},
    )  # fmt: skip
    log.append(venue=by.venue, by=by, kind="entry_answered", subject=by, row=row, text=text, at=at)
    return row


@transaction.atomic
def settle(*, by: Membership, answer: Answered, at: dt.datetime) -> AnswerSettled:
    """A manager has heard both and the entry stands. Nobody settles about their own."""
    steps.refuse_other_house(by, answer)
    entry = answer.entry
    if by.pk in (answer.hire_id, getattr(entry, "trainer_id", None)):
        raise refuse("somebody_else_settles")
    steps.lock_entry(entry)
    if AnswerSettled.objects.filter(answer=answer).exists():
        raise refuse("settled_already")
    row = AnswerSettled.objects.create(venue=by.venue, answer=answer, by=by, at=at)
    log.append(venue=by.venue, by=by, kind="entry_stands", subject=answer.hire, row=row, at=at)
    return row


@transaction.atomic
def erase_said(*, by: Membership, entry: Entry, code: str, at: dt.datetime) -> None:
    """Words said to the entry go and their entry comes; it stays. Whoever wrote them may, and who
    sees the log."""
    author = authors_of(entry).get(code)
    text = PersonalText.objects.filter(venue=by.venue, code=code, erased_at=None).first()
    if author is None or text is None:
        raise refuse("no_words_there")
    if author != by.pk and not by.may(May.SEE_LOG):
        raise refuse("only_who_wrote_erases")
    enrol.erase_text(by=by, text=text, at=at)


def authors_of(entry: Entry) -> dict[str, int]:
    """Who wrote the words said to it, by the words' code."""
    rows = Answered.objects.about(kind_of(entry), entry)
    return dict(rows.values_list("text_code", "hire_id"))
