"""Whether a certificate still holds. Worked out each time, stored nowhere."""

from __future__ import annotations

import datetime as dt
from enum import StrEnum

from .models import Certificate


class State(StrEnum):
    VALID = "valid"
    EXPIRED = "expired"
    REVOKED = "revoked"
    NAMELESS = "nameless"


def state(certificate: Certificate, at: dt.datetime) -> State:
    """What the certificate is at this moment, by the house's business day.

    That its holder has left the house changes nothing: what they had shown stays shown until the
    day printed on the paper, and whoever scans it need not learn from us who works where. A house
    that wants it otherwise revokes the certificate, and the log says who did and when.
    """
    revocation = certificate.revoked
    return state_on(
        certificate.venue.business_day(at),
        valid_until=certificate.valid_until,
        revoked=revocation is not None and revocation.at <= at,
        erased=certificate.hire.person.erased_at is not None,
    )


def state_on(day: dt.date, *, valid_until: dt.date, revoked: bool, erased: bool = False) -> State:
    """Revoked beats nameless, and both beat expired; the last day still counts."""
    if revoked:
        return State.REVOKED
    if erased:
        return State.NAMELESS
    return State.VALID if day <= valid_until else State.EXPIRED
