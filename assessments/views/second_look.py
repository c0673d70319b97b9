"""What others say to a record: the hire's answer, a second trainer's marks, what a manager looks at
and decides."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import deciding, handing_over, marked_twice, record_second, to_look_at
from assessments.models import Reply, SecondMark
from assessments.models.kinds import Entry
from assessments.models.second_look import PlanChoice
from assessments.open_watches import left_begun
from assessments.showing import Naming, show_stored_steps
from assessments.stuck_shown import StuckShown, show_stuck
from assessments.views.finding import build_or_404, hire_here_or_404, hire_or_404, menu_now
from assessments.views.finding import own_build_or_404 as own_or_404
from assessments.views.forms import AnswerForm, refusals_beside
from assessments.voids import row_of
from assessments.wording_refusals import say
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from recipes.models import Recipe


@member(May.LEARN, methods=SEND)
def answer(request: HouseRequest, code: str) -> HttpResponse:
    """The hire says something to a build of theirs; words missing or said before: a message."""
    watched = own_or_404(request, code)
    form = AnswerForm(request.POST)
    disagrees = request.POST.get("disagrees") == "yes"
    if form.is_valid():
        with refusals_beside(form):
            record_second.answer_record(
                by=request.membership, watched=watched, words=form.cleaned_data["words"],
                disagrees=disagrees, at=timezone.now(),
            )  # fmt: skip
    if form.errors:
        for wrong in form.errors.values():
            messages.error(request, " ".join(map(str, wrong)))
        if disagrees:
            back = reverse("my_build", kwargs={"house": request.venue.slug, "code": code})
            return redirect(f"{back}?differently=yes")
    else:
        said = _("Said. A manager will look at it.") if disagrees else _("Said.")
        messages.success(request, said)
    return redirect("my_build", house=request.venue.slug, code=code)


@member(May.WATCH)
def second_marks(request: HouseRequest) -> HttpResponse:
    """Builds of this shift to mark a second time, without the first one's marks; and what was
    handed over to oneself."""
    at = timezone.now()
    context = {
        "builds": to_look_at.for_a_second_look(request.membership, at, record_second.SECOND_WITHIN),
        "twice": marked_twice.seen_by(request.membership),
        "taken_over": handing_over.taken_over(request.membership, at),
    }
    return render(request, "assessments/second_marks.html", context)


@member(May.WATCH, methods=READ_AND_SEND)
def mark_too(request: HouseRequest, code: str) -> HttpResponse:
    """The checklist of a build that somebody else watched, as empty as it was for them; where it
    has been marked twice, onward to the marks."""
    watched = build_or_404(request, code)
    if request.membership.pk in (watched.trainer_id, watched.hire_id):
        raise Http404
    refused = ""
    if request.method == "POST":
        try:
            record_second.mark_too(
                by=request.membership, watched=watched, off=request.POST.getlist("off"),
                at=timezone.now(),
            )  # fmt: skip
            messages.success(request, _("On record beside the first marks."))
        except Refused as error:
            refused = say(error.reason)
    if (mark := marked_twice.find(request.venue, code)) is not None:
        return _to_the_marks(request, mark, refused)
    steps = show_stored_steps(watched, Naming.of(menu_now(request)))
    context = {"watched": watched, "steps": steps, "refused": refused}
    return render(request, "assessments/mark_too.html", context)


def _to_the_marks(request: HouseRequest, mark: SecondMark, refused: str) -> HttpResponse:
    """Both, for whom they are for; else the build, which hides nothing any more."""
    if refused:
        messages.error(request, refused)
    page = "both_marks" if marked_twice.may_see(request.membership, mark) else "build"
    return redirect(page, house=request.venue.slug, code=mark.watched.code)


@member(May.WATCH, methods=SEND)
def see_marks(request: HouseRequest, code: str) -> HttpResponse:
    """The first marks, for whoever would rather read them than give the second look."""
    watched = build_or_404(request, code)
    record_second.see_marks(by=request.membership, watched=watched, at=timezone.now())
    return redirect("build", house=request.venue.slug, code=code)


@member(May.SEE_LOG)
def look_at(request: HouseRequest) -> HttpResponse:
    """Everything that waits for a manager's word."""
    at = timezone.now()
    builds, answers = deciding.differently(request.membership, at)
    context = {
        "disagreements": builds,
        "answers": answers,
        "stuck": deciding.plans(request.membership, _stuck(request, at), at),
        "trainers": to_look_at.trainers(request.venue, at),
        "pairs": to_look_at.pairs(request.venue, at),
        "left_open": handing_over.left_open_by(request.venue, at),
        "left_begun": left_begun(request.membership, at),
        "watchers": to_look_at.who_may(May.WATCH, request.venue, at),
    }
    return render(request, "assessments/to_look_at.html", context)


def _stuck(request: HouseRequest, at: dt.datetime) -> list[StuckShown]:
    found = to_look_at.stuck_hires(request.venue, at)
    return show_stuck(found, menu_now(request)) if found else []


def decided(entry: Entry) -> str:
    """What whoever has heard both reads."""
    if row_of(entry):
        return _("It stays taken back, and the log says that you heard both.")
    return _("It stands, and the log says that you decided it.")


@member(May.SEE_LOG, methods=SEND)
def let_stand(request: HouseRequest, code: str) -> HttpResponse:
    watched = build_or_404(request, code)
    reply = get_object_or_404(Reply.objects.select_related("watched", "hire"), watched=watched)
    return _do(request, decided(watched), lambda: record_second.let_stand(
        by=request.membership, reply=reply, at=timezone.now()
    ))  # fmt: skip


@member(May.SEE_LOG, methods=SEND)
def decide_plan(request: HouseRequest, hire: str, drink: str) -> HttpResponse:
    person = hire_here_or_404(request, hire)
    recipe = get_object_or_404(Recipe.objects.in_house(request.venue), slug=drink)
    plan, at = request.POST.get("plan", ""), timezone.now()
    if plan not in PlanChoice.values:
        messages.error(request, _("Pick what comes next."))
        return redirect("to_look_at", house=request.venue.slug)
    if plan == PlanChoice.STATION and not _elsewhere(person, recipe, _stuck(request, at)):
        messages.error(request, _("No other station would do yet: pick another plan."))
        return redirect("to_look_at", house=request.venue.slug)
    return _do(request, _("Decided, and on record."), lambda: record_second.decide_plan(
        by=request.membership, hire=person, recipe=recipe, plan=plan, at=at,
        seen=request.POST.get("seen"),
    ))  # fmt: skip


def _elsewhere(hire: Membership, recipe: Recipe, stuck: Sequence[StuckShown]) -> bool:
    """Whether there is another station where they could stand."""
    theirs = (s for s in stuck if (s.stuck.hire, s.stuck.recipe) == (hire, recipe))
    return any(shown.elsewhere for shown in theirs)


@member(May.SEE_LOG, methods=SEND)
def hand_over(request: HouseRequest, trainer: str) -> HttpResponse:
    """What is ticked of the builds that this trainer left open, all at once; of those that aren't
    open any more, what became of each."""
    gone, at = hire_or_404(request, trainer), timezone.now()
    to, ticked = hire_or_404(request, request.POST.get("to", "")), request.POST.getlist("build")
    left = handing_over.left_open(request.venue, at)
    builds = [b for b in left if b.trainer_id == gone.pk and b.code in ticked]
    for why in handing_over.no_longer_open(gone, ticked, at):
        messages.warning(request, why)
    if not builds:
        messages.error(request, _("Tick at least one build that is still open."))
        return redirect("to_look_at", house=request.venue.slug)
    return _do(request, _("Handed over."), lambda: record_second.hand_over_all(
        by=request.membership, builds=builds, to=to, at=at
    ))  # fmt: skip


def _do(request: HouseRequest, said: str, verb: Callable[[], object]) -> HttpResponse:
    try:
        verb()
        messages.success(request, said)
    except Refused as refused:
        messages.error(request, say(refused.reason))
    return redirect("to_look_at", house=request.venue.slug)
