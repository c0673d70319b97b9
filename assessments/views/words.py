"""Words about a watched build, erased by whoever wrote them or by who sees the log."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.models import WatchedBuild
from assessments.record_words import Words
from assessments.record_words import erase_words as erase_words_of
from assessments.views.finding import build_or_404, own_build_or_404
from assessments.wording_refusals import say
from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.reasons import Refused
from barcourse.people.roles import May


@member(May.WATCH, methods=SEND)
def erase_words(request: HouseRequest, code: str) -> HttpResponse:
    """`which` of the build's words is sent with the form."""
    which = request.POST.get("which", "")
    if which not in set(Words):
        raise Http404
    _erase(request, build_or_404(request, code), Words(which))
    return redirect("build", house=request.venue.slug, code=code)


@member(May.LEARN, methods=SEND)
def erase_answer(request: HouseRequest, code: str) -> HttpResponse:
    """A hire's own answer to a build of theirs."""
    _erase(request, own_build_or_404(request, code), Words.ANSWER)
    return redirect("my_build", house=request.venue.slug, code=code)


def _erase(request: HouseRequest, watched: WatchedBuild, which: Words) -> None:
    try:
        erase_words_of(by=request.membership, watched=watched, which=which, at=timezone.now())
        messages.success(request, _("The words are erased. Everything else stays."))
    except Refused as refused:
        messages.error(request, say(refused.reason))
