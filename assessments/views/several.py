"""Several builds on one page: the checklist of each, and two hires side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import board, checklist, doubts, prints, reads, record
from assessments.measures.marking import HelpLevel
from assessments.measures.rounds import MOST_DRINKS
from assessments.measuring import (
    UNIT_WORDS,
    NoVolume,
    PourField,
    measured,
    pour_fields,
    unit_of,
)
from assessments.models import WatchedBuild
from assessments.models.watch import MadeWith
from assessments.showing import Naming, StepShown, show_steps
from assessments.views.finding import build_or_404, drink_or_404, hire_here_or_404, menu_now
from assessments.views.forms import NoteForm, refusals_beside
from assessments.views.forms_practical import MadeWithForm, SideForm
from assessments.views.open_watches import put_on_record
from assessments.wording_refusals import say
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.reasons import Reason, refuse
from barcourse.people.roles import May
from recipes.menu import Menu, MenuDrink
from recipes.off_tonight import as_served


@dataclass(frozen=True)
class Sheet:
    """The checklist of one build among several; its fields carry its number. `which` counts those
    of one hire and one drink from 1; 0 where there is no other."""

    number: int
    item: MenuDrink
    hire: Membership
    build: str
    steps: list[StepShown]
    pours: list[PourField]
    said: NoteForm
    which: int = 0

    @property
    def off(self) -> str:
        return f"off-{self.number}"

    @property
    def print_(self) -> str:
        return f"build-{self.number}"

    @property
    def is_touched(self) -> bool:
        return any(step.off for step in self.steps) or self.has_more

    @property
    def has_more(self) -> bool:
        """Whether something was measured or noted."""
        return any(pour.typed for pour in self.pours) or bool(self.said["note"].value())


def sheets_of(
    request: HouseRequest, menu: Menu, builds: Sequence[tuple[Membership, MenuDrink]]
) -> list[Sheet]:
    naming = Naming.of(menu)
    return [_sheet(request, menu, naming, number, builds) for number, _build in enumerate(builds)]


def _sheet(
    request: HouseRequest,
    menu: Menu,
    naming: Naming,
    number: int,
    builds: Sequence[tuple[Membership, MenuDrink]],
) -> Sheet:
    hire, item = builds[number]
    off = frozenset(request.POST.getlist(f"off-{number}"))
    steps = show_steps(checklist.steps_of(item.drink, menu.pantry), naming, off)
    does = {step.key: step.does for step in steps}
    return Sheet(
        number,
        item,
        hire,
        prints.of_build(item.drink),
        steps,
        pour_fields(item.drink.spec, does, request.POST, _measured(number)),
        NoteForm(request.POST or None, prefix=f"build{number}"),
        _which(number, builds),
    )


def _measured(number: int) -> str:
    return f"measured-{number}-"


@dataclass(frozen=True)
class Seen:
    """What was tapped, measured in millilitres and noted on one sheet."""

    sheet: Sheet
    off: list[str]
    print_: str
    measured: dict[str, float]

    @property
    def note(self) -> str:
        note: str = self.sheet.said.cleaned_data["note"]
        return note


def seen_on(request: HouseRequest, menu: Menu, sheets: Sequence[Sheet]) -> list[Seen]:
    """Of valid sheets. Raises Refused where a pour is no volume."""
    try:
        return [
            Seen(
                sheet,
                request.POST.getlist(sheet.off),
                request.POST.get(sheet.print_, ""),
                measured(request.POST.dict(), menu.rules.country, _measured(sheet.number)),
            )
            for sheet in sheets
        ]
    except NoVolume as no:
        raise refuse(no.code) from None


def doubtful_pours(menu: Menu, seen: Sequence[Seen]) -> list[str]:
    return [
        words
        for one in seen
        for words in doubts.of_measured(one.sheet.item.drink.spec, one.measured, menu.rules.country)
    ]


def _which(number: int, builds: Sequence[tuple[Membership, MenuDrink]]) -> int:
    same = [n for n, build in enumerate(builds) if build == builds[number]]
    return same.index(number) + 1 if len(same) > 1 else 0


def asked_drinks(request: HouseRequest, menu: Menu) -> list[MenuDrink]:
    """The drinks that the address names, in its order, each as it is poured tonight. More than a
    round has are left out, and a message says so."""
    slugs = request.GET.getlist("d")
    if len(slugs) > MOST_DRINKS:
        said = _("A round has up to %(most)s drinks: the first %(most)s of them are picked.")
        messages.error(request, said % {"most": MOST_DRINKS})
    return [as_served(drink_or_404(menu, slug), menu) for slug in slugs[:MOST_DRINKS]]


SIDES = ("a", "b")


@member(May.WATCH, methods=READ_AND_SEND)
def together(request: HouseRequest) -> HttpResponse:
    """Two hires at once: `?a=&b=` name the people, `?d=` once or twice the drinks. `?done=` are
    builds that were just put on record, to be signed."""
    menu = menu_now(request)
    people, items = _two(request), asked_drinks(request, menu)
    if not (people and items):
        return _pick_two(request, menu)
    builds = list(zip(people, (items * 2)[:2] if len(items) == 1 else items[:2], strict=True))
    form, sides = MadeWithForm(request.POST or None), _sides(request)
    sheets = sheets_of(request, menu, builds)
    right = [said.is_valid() for said in (form, *sides, *(sheet.said for sheet in sheets))]
    if all(right):  # every one was asked, so that each says its errors
        with refusals_beside(form):
            seen = seen_on(request, menu, sheets)
            if form.is_believed([*doubtful_pours(menu, seen), *_doubts(sides)]):
                codes = [b.code for b in _both(request, menu, seen, form, sides)]
                put_on_record(request)
                messages.success(request, _("Both are on record. Sign off what was passed."))
                where = redirect("together", house=request.venue.slug).url
                return redirect(f"{where}?done={codes[0]}&done={codes[1]}")
    context = {
        "people": people,
        "sheets": list(zip(sheets, sides, strict=True)),
        "form": form,
        "unit": UNIT_WORDS[unit_of(menu.rules.country)],
        "is_wrong": form.is_bound and (not all(right) or bool(form.errors)),
    }
    return render(request, "assessments/together.html", context)


def _doubts(sides: Sequence[SideForm]) -> list[str]:
    return [words for side in sides for words in doubts.of_time(side.cleaned_data["seconds"])]


def _sides(request: HouseRequest) -> list[SideForm]:
    """What is said of each of the two; the fields begin with their letter."""
    return [SideForm(request.POST or None, prefix=side) for side in SIDES]


def _two(request: HouseRequest) -> list[Membership]:
    codes = [request.GET.get(side, "") for side in SIDES]
    if not all(codes):
        return []
    if len(set(codes)) < len(codes):
        messages.error(request, _("Pick two people."))
        return []
    if request.membership.code in codes:
        messages.error(request, say(Reason.of("nobody_signs_for_themselves")))
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
    seen: Sequence[Seen],
    form: MadeWithForm,
    sides: Sequence[SideForm],
) -> list[WatchedBuild]:
    return [
        record.watch_build(
            by=request.membership,
            hire=one.sheet.hire,
            menu=menu,
            item=one.sheet.item,
            off=one.off,
            help_level=HelpLevel(side.cleaned_data["help_level"]),
            made_with=MadeWith(form.cleaned_data["made_with"]),
            seconds=side.cleaned_data["seconds"],
            note=one.note,
            measured=one.measured,
            at=timezone.now(),
            seen=one.print_,
        )
        for one, side in zip(seen, sides, strict=True)
    ]
