"""Pages about papers, the papers themselves, and the public page that says whether one holds."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from django.contrib import messages
from django.core.exceptions import BadRequest
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _

from assessments.views.finding import hire_or_404, menu_now, module_or_404
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, anyone, member
from barcourse.people.models import Station
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from recipes.models import Module

from . import certificate as certificates
from . import handout as handouts
from . import issue, reads
from . import lookalike_map as lookalike_maps
from .forms import RevokeForm
from .models import Certificate
from .pdf import SIZES
from .states import State, state
from .wording import sentences


@member(May.SEE_PAPERS)
def papers(request: HouseRequest) -> HttpResponse:
    return _papers(request)


@member(May.ISSUE_PAPERS, methods=SEND)
def certificate_issue(request: HouseRequest) -> HttpResponse:
    hire = hire_or_404(request, request.POST.get("hire", ""))
    station = get_object_or_404(Station, venue=request.venue, slug=request.POST.get("station", ""))
    try:
        issue.issue_certificate(
            by=request.membership, hire=hire, station=station, at=timezone.now()
        )
    except Refused as refused:
        return _papers(request, refused=sentences(refused))
    messages.success(request, _("The certificate of %(name)s is issued.") % {"name": hire.name})
    return redirect("papers", house=request.venue.slug)


@member(May.ISSUE_PAPERS, methods=READ_AND_SEND)
def certificate_revoke(request: HouseRequest, code: str) -> HttpResponse:
    certificate = _certificate_or_404(request, code)
    form = RevokeForm(request.POST or None)
    if form.is_valid():
        try:
            issue.revoke(
                by=request.membership, certificate=certificate,
                reason=form.cleaned_data["reason"], at=timezone.now(),
            )  # fmt: skip
        except Refused as refused:
            form.add_error(refused.field, sentences(refused))
        else:
            messages.success(request, _("Revoked. Whoever scans the paper now learns so."))
            return redirect("papers", house=request.venue.slug)
    context = {"certificate": certificate, "form": form}
    return render(request, "papers/revoke.html", context)


@member(May.LEARN)
def certificate_pdf(request: HouseRequest, code: str) -> HttpResponse:
    """One's own, or anybody's for those who may see papers; to others it doesn't exist."""
    certificate = _certificate_or_404(request, code)
    own = certificate.hire_id == request.membership.pk
    if not own and not request.membership.may(May.SEE_PAPERS):
        raise Http404
    facts = certificates.facts_of(certificate, paper_size(request))
    name = f"certificate-{slugify(certificate.hire.name) or 'paper'}-{certificate.station.slug}"
    return pdf(certificates.certificate_pdf(facts), name)


@member(May.LEARN)
def handout_pdf(request: HouseRequest, module: str) -> HttpResponse:
    row = module_or_404(request, module)
    facts = handouts.facts_of(menu_now(request), row, paper_size(request))
    return pdf(handouts.handout_pdf(facts), f"handout-{row.slug}")


@member(May.LEARN)
def lookalike_map_pdf(request: HouseRequest, module: str) -> HttpResponse:
    row = module_or_404(request, module)
    facts = lookalike_maps.facts_of(menu_now(request), row, paper_size(request))
    return pdf(lookalike_maps.map_pdf(facts), f"lookalike-map-{row.slug}")


@member(May.LEARN)
def my_papers(request: HouseRequest) -> HttpResponse:
    context = {
        "issued": reads.issued_to(request.membership, timezone.now()),
        "modules": Module.objects.in_house(request.venue),
    }
    return render(request, "papers/my_papers.html", context)


@anyone
def check_paper(request: HttpRequest, code: str) -> HttpResponse:
    """Confirms or denies a paper to whoever holds it. Says nothing that the paper doesn't."""
    certificate = Certificate.objects.with_all().with_code(code)
    context: dict[str, object] = {"certificate": certificate, "state": None}
    if certificate is not None:
        context |= _held_against(certificate, timezone.now())
    response = render(request, "papers/check.html", context, status=200 if certificate else 404)
    response["X-Robots-Tag"] = "noindex, nofollow"
    response["Cache-Control"] = "no-store"
    return response


def _held_against(certificate: Certificate, at: dt.datetime) -> dict[str, object]:
    revocation = certificate.revoked
    return {
        "state": state(certificate, at).value,
        "shown": certificate.what_was_shown,
        "revoked_on": certificate.venue.business_day(revocation.at) if revocation else None,
    }


def _papers(request: HouseRequest, refused: Sequence[str] = ()) -> HttpResponse:
    issued = reads.issued_in(request.venue, timezone.now())
    context = {
        "ready": reads.ready_for_a_station(menu_now(request)),
        "issued": issued,
        "holding": sum(row.state is State.VALID for row in issued),
        "modules": Module.objects.in_house(request.venue),
        "refused": refused,
    }
    return render(request, "papers/papers.html", context)


def _certificate_or_404(request: HouseRequest, code: str) -> Certificate:
    found = Certificate.objects.in_house(request.venue).with_all().with_code(code)
    if found is None:
        raise Http404
    return found


def paper_size(request: HouseRequest) -> str:
    """`?paper=a4` or `letter`, else the house's own."""
    size = request.GET.get("paper", request.venue.paper_size)
    if size not in SIZES:
        raise BadRequest("No such size of paper.")
    return size


def pdf(content: bytes, name: str) -> HttpResponse:
    """`name` is plain ASCII, as slugs are."""
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'attachment; filename="{name}.pdf"'
    response["Cache-Control"] = "private, no-store"
    return response
