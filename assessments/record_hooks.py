"""Hooks: a person's own words that bring a drink back. Logged without the words, erased with the
person; whoever trains may share theirs with the house."""

from __future__ import annotations

import datetime as dt

from django.db import transaction

from assessments import record_steps as steps
from assessments.models import Hook
from barcourse.people import enrol, log
from barcourse.people.models import Membership, PersonalText
from barcourse.people.reasons import refuse
from barcourse.people.roles import May
from recipes.models import Recipe

LONGEST = 200
"""Letters; a hook is a line, not a lesson (our own number, no source)."""


@transaction.atomic
def keep_hook(
    *, by: Membership, recipe: Recipe, text: str, is_shared: bool = False, at: dt.datetime
) -> Hook | None:
    """In place of what stood there, whose words are erased. Without words the hook is taken off."""
    steps.refuse_other_house(by, recipe)
    text = text.strip()
    if len(text) > LONGEST:
        raise refuse("hook_too_long", "text", most=LONGEST)
    if is_shared and not by.may(May.WATCH):
        raise refuse("only_trainers_share", "is_shared")
    steps.lock_hire(by)
    row = Hook.objects.of(by).on(recipe).first()
    if row is not None:
        _erase(by, row, at)
    if not text:
        if row is not None:
            row.delete()
        return None
    words = log.keep_text(about=by, text=text)
    row = row or Hook(venue=by.venue, by=by, recipe=recipe)
    row.text_code, row.is_shared, row.at = words.code, is_shared, at
    row.save()
    facts = {"drink": recipe.slug, "shared": is_shared}
    log.append(venue=by.venue, by=by, kind="hook_kept", subject=by, text=words, facts=facts, at=at)
    return row


def _erase(by: Membership, row: Hook, at: dt.datetime) -> None:
    text = PersonalText.objects.filter(code=row.text_code, erased_at=None).first()
    if text is not None:
        enrol.erase_text(by=by, text=text, at=at)
