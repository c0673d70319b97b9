"""What a hire does alone: the next shift, modules, lessons and cards."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import board, reads, record
from assessments.showing import House, show_verdict
from assessments.views.finding import drink_or_404, menu_now, module_or_404
from assessments.wording import word
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes import wording as recipe_wording
from recipes.grammar.aspects import Aspect, contents
from recipes.menu import Menu, MenuDrink
from recipes.models import Lesson


@member(May.LEARN)
def next_shift(request: HouseRequest) -> HttpResponse:
    """The next five minutes, and what still stands between this person and ready."""
    menu, now = menu_now(request), timezone.now()
    due = reads.cards_due(request.membership, menu, now)
    stations = board.order_stations(request.venue)
    standing = [
        (s, show_verdict(board.board(s, menu, [request.membership])[0].verdict)) for s in stations
    ]
    progress = reads.modules_of(request.membership, menu)
    context = {
        "cards": [(menu.by_slug[c.drink], word(c.reason)) for c in due],
        "minutes": max(1, round(len(due) / 3)),
        "standing": standing[:1],
        "others": standing[1:],
        "modules": [p for p in progress if not p.is_passed],
        "bar": request.venue.least_right,
        "most_wrong": request.venue.most_wrong,
    }
    return render(request, "assessments/next_shift.html", context)


@member(May.LEARN)
def modules(request: HouseRequest) -> HttpResponse:
    progress = reads.modules_of(request.membership, menu_now(request))
    return render(request, "assessments/modules.html", {"progress": progress})


@member(May.LEARN)
def module(request: HouseRequest, module: str) -> HttpResponse:
    """A module to read: notes, lessons, and its drinks by name."""
    row = module_or_404(request, module)
    menu = menu_now(request)
    progress = {p.module.pk: p for p in reads.modules_of(request.membership, menu)}
    context = {
        "module": row,
        "drinks": menu.of_module(row),
        "lessons": row.lessons.all(),
        "progress": progress[row.pk],
    }
    return render(request, "assessments/module.html", context)


@member(May.LEARN, methods=SEND)
def read(request: HouseRequest, module: str) -> HttpResponse:
    row = module_or_404(request, module)
    record.mark_read(by=request.membership, module=row, at=timezone.now())
    return redirect("module", house=request.venue.slug, module=row.slug)


@member(May.LEARN)
def lesson(request: HouseRequest, module: str, lesson: str) -> HttpResponse:
    row = module_or_404(request, module)
    page = get_object_or_404(Lesson.objects.select_related("module"), module=row, slug=lesson)
    following = row.lessons.filter(position__gt=page.position).first()
    return render(request, "assessments/lesson.html", {"lesson": page, "following": following})


@dataclass(frozen=True)
class CardAspect:
    aspect: Aspect
    label: str
    lines: list[str]


def _back(item: MenuDrink, menu: Menu) -> list[CardAspect]:
    """The back of a card: every aspect that holds something to know."""
    house = House.of(menu)
    held = contents(item.drink.spec)
    return [
        CardAspect(a, recipe_wording.label(a), house.aspect(a, held[a]))
        for a in Aspect
        if item.drink.topics_of(a)
    ]


def _missed(request: HouseRequest) -> list[Aspect]:
    known = {a.value: a for a in Aspect}
    return [known[value] for value in request.POST.getlist("missed") if value in known]


def _mark(request: HouseRequest, menu: Menu) -> MenuDrink:
    item = drink_or_404(menu, request.POST.get("drink", ""))
    record.mark_card(
        by=request.membership, menu=menu, item=item, missed=_missed(request), at=timezone.now()
    )
    return item


@member(May.LEARN, methods=READ_AND_SEND)
def shift_cards(request: HouseRequest) -> HttpResponse:
    """The cards of the next five minutes, one at a time, most urgent first."""
    menu = menu_now(request)
    if request.method == "POST":
        _mark(request, menu)
        return redirect("shift_cards", house=request.venue.slug)
    due = reads.cards_due(request.membership, menu, timezone.now())
    if not due:
        return render(request, "assessments/cards_done.html", {"back": "next_shift"})
    item = menu.by_slug[due[0].drink]
    context = {
        "item": item,
        "menu": menu,
        "back": _back(item, menu),
        "aside": _("%(count)s left") % {"count": len(due)},
        "why": word(due[0].reason),
    }
    return render(request, "assessments/card.html", context)


@member(May.LEARN, methods=READ_AND_SEND)
def module_cards(request: HouseRequest, module: str) -> HttpResponse:
    """All cards of one module in the order of the menu; `?card=` counts from 1."""
    row, menu = module_or_404(request, module), menu_now(request)
    items = menu.of_module(row)
    if request.method == "POST":
        done = items.index(_mark_of(request, menu, items)) + 1
        address = _card_address(request, row.slug, done + 1) if done < len(items) else None
        return redirect(address) if address else _module_done(request, row.slug)
    number = _card_number(request, len(items))
    context = {
        "item": items[number - 1],
        "menu": menu,
        "back": _back(items[number - 1], menu),
        "aside": _("%(done)s of %(total)s") % {"done": number, "total": len(items)},
    }
    return render(request, "assessments/card.html", context)


def _mark_of(request: HouseRequest, menu: Menu, items: tuple[MenuDrink, ...]) -> MenuDrink:
    item = _mark(request, menu)
    if item not in items:
        raise Http404
    return item


def _card_number(request: HouseRequest, count: int) -> int:
    said = request.GET.get("card", "1")
    if not count or not said.isdecimal() or not 1 <= int(said) <= count:
        raise Http404
    return int(said)


def _card_address(request: HouseRequest, module: str, number: int) -> str:
    return f"{request.path}?card={number}"


def _module_done(request: HouseRequest, module: str) -> HttpResponse:
    return redirect("module", house=request.venue.slug, module=module)
