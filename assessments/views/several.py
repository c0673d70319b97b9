"""Several builds on one page: a whole round of one hire, or two hires side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import board, checklist, hands, prints, reads, record, record_practical
from assessments.measures.marking import HelpLevel
from assessments.measures.rounds import MOST_DRINKS, RoundStep, best_order
from assessments.models import WatchedBuild, WatchedRound
from assessments.models.watch import MadeWith
from assessments.showing import Naming, StepShown, show_steps
from assessments.views.finding import build_or_404, drink_or_404, hire_here_or_404, menu_now
from assessments.views.forms import refusals_beside
from assessments.views.forms_practical import RoundForm
from assessments.views.spot import by_share
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May
from recipes.menu import Menu, MenuDrink

OFTEN = 12


@dataclass(frozen=True)
class Sheet:
    """The checklist of one build among several; its fields end in its number."""

    number: int
    item: MenuDrink
    hire: Membership
    build: str
    steps: list[StepShown]

    @property
    def off(self) -> str:
        return f"off-{self.number}"

    @property
    def print_(self) -> str:
        return f"build-{self.number}"

    @property
    def is_touched(self) -> bool:
        return any(step.off for step in self.steps)


def _sheets(
    request: HouseRequest, menu: Menu, builds: Sequence[tuple[Membership, MenuDrink]]
) -> list[Sheet]:
    naming = Naming.of(menu)
    return [
        Sheet(
            number,
            item,
            hire,
            prints.of_build(item.drink),
            show_steps(
                checklist.steps_of(item.drink, menu.pantry),
                naming,
                frozenset(request.POST.getlist(f"off-{number}")),
            ),
        )
        for number, (hire, item) in enumerate(builds)
    ]


def _asked(request: HouseRequest, menu: Menu) -> list[MenuDrink]:
    """The drinks that the address names, in its order."""
    slugs = request.GET.getlist("d")
    if len(slugs) > MOST_DRINKS:
        raise Http404
    return [drink_or_404(menu, slug) for slug in slugs]


@member(May.WATCH, methods=READ_AND_SEND)
def watch_round(request: HouseRequest, hire: str) -> HttpResponse:
    """Which drinks, then their checklists and the best order. `?d=` names them."""
    person, menu = hire_here_or_404(request, hire), menu_now(request)
    items = _asked(request, menu)
    if not items:
        found = by_share(menu, "")
        context = {
            "hire": person,
            "often": found[:OFTEN],
            "rest": found[OFTEN:],
            "most": MOST_DRINKS,
        }
        return render(request, "assessments/round_pick.html", context)
    best, form = (
        best_order([i.drink.spec for i in items], menu.pantry),
        RoundForm(request.POST or None),
    )
    if form.is_valid():
        with refusals_beside(form):
            row = _round(request, person, menu, items, best, form)
            return redirect("round_done", house=request.venue.slug, code=row.code)
    names = [i.drink.name for i in items]
    context = {
        "hire": person,
        "sheets": _sheets(request, menu, [(person, i) for i in items]),
        "order": hands.show_steps(best, names, menu, _places(request, best)),
        "form": form,
    }
    return render(request, "assessments/round.html", context)


def _places(request: HouseRequest, best: Sequence[RoundStep]) -> dict[str, int]:
    """Where each step was done; what is no number stands where it belongs."""
    found = {}
    for number, step in enumerate(best, start=1):
        said = request.POST.get(f"place-{step.key}", "")
        plain = said.isascii() and said.isdecimal() and len(said) < 4
        found[step.key] = int(said) if plain else number
    return found


def _round(
    request: HouseRequest,
    hire: Membership,
    menu: Menu,
    items: Sequence[MenuDrink],
    best: Sequence[RoundStep],
    form: RoundForm,
) -> WatchedRound:
    """Steps in the order of their numbers; of two with one number, the one that should be first."""
    said, places = form.cleaned_data, _places(request, best)
    done = record_practical.RoundDone(
        builds=[
            record_practical.BuildOf(
                item, request.POST.getlist(f"off-{n}"), request.POST.get(f"build-{n}", "")
            )
            for n, item in enumerate(items)
        ],
        done=sorted(places, key=lambda key: places[key]),
        picked_up_again=said["picked_up_again"] or 0,
        help_level=HelpLevel(said["help_level"]),
        made_with=MadeWith(said["made_with"]),
        seconds=said["seconds"],
    )
    return record_practical.watch_round(
        by=request.membership, hire=hire, menu=menu, said=done, at=timezone.now()
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
    found = hands.show_round(row, menu)
    context = {"shown": found, "entries": reads.show_builds(found.builds, menu)}
    return render(request, "assessments/round_done.html", context)


SIDES = ("a", "b")


@member(May.WATCH, methods=READ_AND_SEND)
def together(request: HouseRequest) -> HttpResponse:
    """Two hires at once: `?a=&b=` name the people, `?d=` once or twice the drinks. `?done=` are
    builds that were just put on record, to be signed."""
    menu = menu_now(request)
    people, items = _two(request), _asked(request, menu)
    if not (people and items):
        return _pick_two(request, menu)
    builds = list(zip(people, (items * 2)[:2] if len(items) == 1 else items[:2], strict=True))
    form = RoundForm(request.POST or None)
    if form.is_valid():
        with refusals_beside(form):
            codes = [b.code for b in _both(request, menu, builds, form)]
            messages.success(request, _("Both are on record. Sign off what was passed."))
            where = redirect("together", house=request.venue.slug).url
            return redirect(f"{where}?done={codes[0]}&done={codes[1]}")
    context = {"sheets": _sheets(request, menu, builds), "form": form}
    return render(request, "assessments/together.html", context)


def _two(request: HouseRequest) -> list[Membership]:
    codes = [request.GET.get(side, "") for side in SIDES]
    if not all(codes):
        return []
    return [hire_here_or_404(request, code) for code in codes]


def _pick_two(request: HouseRequest, menu: Menu) -> HttpResponse:
    done = [build_or_404(request, code) for code in request.GET.getlist("done")[:2]]
    context = {
        "hires": board.hires_here(request.venue, menu.at),
        "drinks": sorted(menu.items, key=lambda i: i.drink.name.casefold()),
        "entries": reads.show_builds(done, menu),
    }
    return render(request, "assessments/together_pick.html", context)


@transaction.atomic
def _both(
    request: HouseRequest,
    menu: Menu,
    builds: Sequence[tuple[Membership, MenuDrink]],
    form: RoundForm,
) -> list[WatchedBuild]:
    said = form.cleaned_data
    return [
        record.watch_build(
            by=request.membership,
            hire=hire,
            menu=menu,
            item=item,
            off=request.POST.getlist(f"off-{n}"),
            help_level=HelpLevel(said["help_level"]),
            made_with=MadeWith(said["made_with"]),
            at=timezone.now(),
            seen=request.POST.get(f"build-{n}", ""),
        )
        for n, (hire, item) in enumerate(builds)
    ]
