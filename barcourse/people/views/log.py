"""The sealed log, for whoever has to show that nothing was changed."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render

from barcourse.people import log
from barcourse.people.access import HouseRequest, member
from barcourse.people.log_words import newest
from barcourse.people.roles import May
from barcourse.people.wording import say

SHOWN = 50
# Up to here checking the whole chain takes a fraction of a second; beyond, it is asked for.
CHECKED_AT_ONCE = 2000


@member(May.SEE_LOG)
def sealed_log(request: HouseRequest) -> HttpResponse:
    head = log.head(request.venue)
    checked = head.number <= CHECKED_AT_ONCE or "check" in request.GET
    context = {
        "lines": newest(request.venue, SHOWN),
        "head": head,
        "checked": checked,
        "findings": [say(reason) for reason in log.check(request.venue)] if checked else [],
    }
    return render(request, "people/log.html", context)
