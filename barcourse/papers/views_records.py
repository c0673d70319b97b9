"""Training records and the inspection folder, as PDF and CSV."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.utils import timezone

from assessments.views.finding import hire_or_404, menu_now
from barcourse.people.access import HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May

from . import folder, folder_sheet, training_record
from .sheets import csv_file
from .views import paper_size, pdf


@member(May.LEARN)
def record_pdf(request: HouseRequest, code: str) -> HttpResponse:
    """One's own, or anybody's for those who may see records; to others it doesn't exist."""
    person, size = _whose(request, code), paper_size(request)
    menu = menu_now(request)
    facts = training_record.facts_of(person, menu, reader=request.membership, size=size)
    return pdf(training_record.record_pdf(facts), f"training-record-{code[:8]}")


@member(May.LEARN)
def record_csv(request: HouseRequest, code: str) -> HttpResponse:
    person, menu = _whose(request, code), menu_now(request)
    facts = training_record.facts_of(person, menu, reader=request.membership)
    return csv_file(training_record.record_csv(facts), f"training-record-{code[:8]}")


@member(May.SEE_PAPERS)
def folder_pdf(request: HouseRequest) -> HttpResponse:
    facts = folder.facts_of(menu_now(request), paper_size(request))
    return pdf(folder.folder_pdf(facts), _name_of_folder(request))


@member(May.SEE_PAPERS)
def folder_csv(request: HouseRequest) -> HttpResponse:
    facts = folder.facts_of(menu_now(request))
    return csv_file(folder_sheet.folder_csv(facts), _name_of_folder(request))


def _name_of_folder(request: HouseRequest) -> str:
    return f"inspection-{request.venue.slug}-{request.venue.local(timezone.now()):%Y-%m-%d}"


def _whose(request: HouseRequest, code: str) -> Membership:
    person = hire_or_404(request, code)
    own = person.pk == request.membership.pk
    if not own and not request.membership.may(May.SEE_RECORDS):
        raise Http404
    return person
