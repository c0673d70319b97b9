"""A whole round of one hire: which drinks, the best order, what was done."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from django.http import HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import doubts, reads, record_practical, round_words
from assessments.measures.marking import HelpLevel
from assessments.measures.rounds import MOST_DRINKS, RoundStep, best_order
from assessments.measures.rounds_done import in_order
from assessments.measuring import UNIT_WORDS, unit_of
from assessments.models import WatchedRound
from assessments.models.watch import MadeWith
from assessments.record_second import SECOND_WITHIN
from assessments.to_look_at import kept_from
from assessments.views.finding import hire_here_or_404, menu_now
from assessments.views.forms import refusals_beside
from assessments.views.forms_practical import RoundForm
from assessments.views.oneself import of_somebody_else
from assessments.views.open_watches import put_on_record
from assessments.views.several import (
    Seen,
    asked_drinks,
    doubtful_pours,
    seen_on,
    sheets_of,
)
from assessments.views.spot import by_share
from assessments.voids import void_of
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May
from recipes.menu import Menu, MenuDrink

OFTEN = 12
PLACE = "place-"


@member(May.WATCH, methods=READ_AND_SEND)
@of_somebody_else
def watch_round(request: HouseRequest, hire: str) -> HttpResponse:
    """Which drinks, then their checklists and the best order. `?d=` names them, as often as they
    were ordered; `?pick=1` goes on picking."""
    person, menu = hire_here_or_404(request, hire), menu_now(request)
    items = asked_drinks(request, menu)
    too_many = len(request.GET.getlist("d")) > MOST_DRINKS
    if not items or too_many or request.GET.get("pick"):
        return render(request, "assessments/round_pick.html", _picking(person, menu, items))
    best = best_order([i.drink.spec for i in items], menu.pantry)
    form, typed = RoundForm(request.POST or None), _typed(request, best)
    names = [i.drink.name for i in items]
    order = round_words.show_steps(best, names, menu, typed)
    sheets = sheets_of(request, menu, [(person, i) for i in items])
    right = [said.is_valid() for said in (form, *(sheet.said for sheet in sheets))]
    if all(right) and _are_places(order, form):
        with refusals_beside(form):
            seen = seen_on(request, menu, sheets)
            if form.is_believed([*doubtful_pours(menu, seen), *_of_time(form, len(items))]):
                done = in_order(best, sorted(typed, key=lambda key: int(typed[key])))
                row = _round(request, person, menu, seen, done, form)
                put_on_record(request)
                return redirect("round_done", house=request.venue.slug, code=row.code)
    context = {
        "hire": person,
        "drinks": round_words.in_words(names),
        "sheets": sheets,
        "unit": UNIT_WORDS[unit_of(menu.rules.country)],
        "is_wrong": form.is_bound and (not all(right) or bool(form.errors)),
        "order": order,
        "form": form,
        "others": _address([i.drink.slug for i in items], pick=True),
    }
    return render(request, "assessments/round.html", context)


@dataclass(frozen=True)
class Picked:
    """A drink of the round, how often, and the address of the round with one fewer of it."""

    name: str
    count: int
    fewer: str


@dataclass(frozen=True)
class Offered:
    """A drink that can join the round, and the address of the round with one more of it."""

    name: str
    more: str


def _picking(hire: Membership, menu: Menu, items: Sequence[MenuDrink]) -> dict[str, object]:
    slugs = [i.drink.slug for i in items]
    offered = [
        Offered(i.drink.name, _address([*slugs, i.drink.slug], pick=True))
        for i in by_share(menu, "")
    ]
    full = len(slugs) >= MOST_DRINKS
    return {
        "hire": hire,
        "picked": _picked(menu, slugs),
        "often": [] if full else offered[:OFTEN],
        "rest": [] if full else offered[OFTEN:],
        "most": MOST_DRINKS,
        "full": full,
        "round": _address(slugs),
    }


def _picked(menu: Menu, slugs: Sequence[str]) -> list[Picked]:
    return [
        Picked(menu.by_slug[slug].drink.name, count, _address(_without_one(slugs, slug), pick=True))
        for slug, count in Counter(slugs).items()
    ]


def _without_one(slugs: Sequence[str], slug: str) -> list[str]:
    """The last of it goes."""
    at = len(slugs) - 1 - list(reversed(slugs)).index(slug)
    return [s for n, s in enumerate(slugs) if n != at]


def _address(slugs: Sequence[str], *, pick: bool = False) -> str:
    query = QueryDict(mutable=True)
    query.setlist("d", list(slugs))
    if pick:
        query["pick"] = "1"
    return f"?{query.urlencode()}"


def _typed(request: HouseRequest, best: Sequence[RoundStep]) -> dict[str, str]:
    """By step, what was tapped or typed as its place; steps without a word are left out."""
    said = {step.key: request.POST.get(PLACE + step.key, "").strip() for step in best}
    return {key: place for key, place in said.items() if place}


def _are_places(order: Sequence[round_words.StepOfRound], form: RoundForm) -> bool:
    """Whether each is a place, and no two the same one; the form says which is not."""
    taken: dict[int, str] = {}
    for step in order:
        said = str(step.place or "")
        if said and not _is_place(said):
            form.add_error(None, _("A place is a whole number from 1: “%(said)s” is none. Nothing "
                                   "has been saved yet.") % {"said": said[:20]})  # fmt: skip
        elif said and int(said) in taken:
            two = {"n": int(said), "first": taken[int(said)], "second": step.in_full}
            form.add_error(None, _("Two steps can't both be number %(n)s: “%(first)s” and "
                                   "“%(second)s”. Nothing has been saved yet.") % two)  # fmt: skip
        elif said:
            taken[int(said)] = step.in_full
    return form.is_valid()


def _of_time(form: RoundForm, drinks: int) -> list[str]:
    return doubts.of_time(form.cleaned_data["seconds"], drinks)


def _is_place(said: str) -> bool:
    return said.isascii() and said.isdecimal() and len(said) < 4 and int(said) > 0


def _round(
    request: HouseRequest,
    hire: Membership,
    menu: Menu,
    seen: Sequence[Seen],
    done: Sequence[str],
    form: RoundForm,
) -> WatchedRound:
    said = form.cleaned_data
    builds = [
        record_practical.BuildOf(one.sheet.item, one.off, one.print_, one.note, one.measured)
        for one in seen
    ]
    made = record_practical.RoundDone(
        builds=builds,
        done=done,
        picked_up_again=said["picked_up_again"] or 0,
        help_level=HelpLevel(said["help_level"]),
        made_with=MadeWith(said["made_with"]),
        seconds=said["seconds"],
    )
    return record_practical.watch_round(
        by=request.membership, hire=hire, menu=menu, said=made, at=timezone.now()
    )


@member(May.SEE_RECORDS)
def shown(request: HouseRequest, code: str) -> HttpResponse:
    rows = WatchedRound.objects.in_house(request.venue).with_people()
    return _show(request, get_object_or_404(rows, code=code))


@member(May.LEARN)
def mine(request: HouseRequest, code: str) -> HttpResponse:
    """A hire's own, to read."""
    rows = WatchedRound.objects.of(request.membership).with_people()
    return _show(request, get_object_or_404(rows, code=code))


def _show(request: HouseRequest, row: WatchedRound) -> HttpResponse:
    menu = menu_now(request)
    found = round_words.show_round(row, menu)
    context = {
        "shown": found,
        "entries": reads.show_builds(found.builds, menu),
        "blind": kept_from(request.membership, menu.at, SECOND_WITHIN),
        "row": row,
        "void": void_of(row),
    }
    return render(request, "assessments/round_done.html", context)
