"""Sentences for what the verbs of `issue` refuse, and words for the state of a certificate."""

from __future__ import annotations

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from assessments.wording import word
from barcourse.people import wording as people_wording
from barcourse.people.reasons import Refused

from .issue import NotReady
from .states import State

WORDS: dict[str, str | Promise] = {
    "not_ready": _("Not ready for that station yet, so there is no certificate."),
    "nobody_issues_to_themselves": _("Nobody issues a certificate to themselves."),
    "revoke_needs_reason": _("Say why in a few words."),
    "revoked_already": _("This certificate was revoked already."),
}

STATES: dict[State, str | Promise] = {
    State.VALID: _("valid"),
    State.EXPIRED: _("expired"),
    State.REVOKED: _("revoked"),
    State.NAMELESS: _("no longer confirmed"),
}


def sentences(refused: Refused) -> list[str]:
    """What a refusal says; for somebody who isn't ready, also what is missing."""
    code = refused.reason.code
    if code not in WORDS:
        return [str(people_wording.say(refused.reason))]
    said = [str(WORDS[code]) % dict(refused.reason.params)]
    if isinstance(refused, NotReady):
        said += [word(reason) for reason in refused.missing]
    return said
