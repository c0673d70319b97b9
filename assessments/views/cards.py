"""Cards: the name on the front, the build on the back; the hire taps what they did not have."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

from django.contrib import messages
from django.core.exceptions import BadRequest
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import ahead, hooks, prints, reads, record, shift_page
from assessments.due_cards import DueCard, changed_card, due_cards
from assessments.kept_pages import kept_page
from assessments.met import known_to
from assessments.showing import Naming
from assessments.under_way import in_a_rush
from assessments.views.finding import (
    coming_or_none,
    drink_or_404,
    menu_now,
    module_or_404,
    number_or_404,
)
from assessments.views.forms import NoForm, milliseconds, refusals_beside
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.grammar.aspects import Aspect
from recipes.menu import Menu, MenuDrink
from recipes.words_mixers import aspect_label
from recipes.words_rule_topics import rule_says


@member(May.LEARN, methods=READ_AND_SEND)
def shift_cards(request: HouseRequest) -> HttpResponse:
    """The cards of the next five minutes, one at a time, most urgent first; `?as_of=` a moment
    at which the menu changes: those of what is coming then. `?left=` counts the round down, so
    that five minutes end; `?on=1` goes on once the day's minutes are studied."""
    if shut := _in_a_rush(request):
        return shut
    if request.method == "GET" and "as_of" not in request.GET:
        return _next_card(request)
    today, form = menu_now(request), NoForm()
    coming = coming_or_none(request, today)
    menu = coming.menu if coming else today
    if request.method == "POST":
        item, form = _mark(request, menu, coming.to_learn if coming else menu.items)
        if not form.errors:
            return redirect(_shift_cards(request, coming, _left_after(request.POST.get("left"))))
        return _card(request, item, menu, form, coming=coming)
    if coming is None:
        return _next_card(request)
    hire, progress = request.membership, reads.modules_of(request.membership, today)
    known = known_to(hire, menu)
    due = due_cards(menu, ahead.cards_of(hire, coming, today.at, progress, known), known)
    return _first_of(request, due, menu, coming, is_new=not any(p.is_begun for p in progress))


def _in_a_rush(request: HouseRequest) -> HttpResponse | None:
    """In a rush a card would tell what is right. One that lies turned over is
    still marked, and whoever may open the house book is never refused."""
    if request.method != "GET" or request.membership.may(May.SEE_BOOK):
        return None
    middle = in_a_rush(request.membership, timezone.now())
    return render(request, "assessments/cards_shut.html", {"middle": middle}) if middle else None


def _next_card(request: HouseRequest) -> HttpResponse:
    page = shift_page.now_for(request.membership, lambda: menu_now(request), timezone.now())
    if page.planned.is_spent and _goes_on(request):
        due = shift_page.cards_beyond(request.membership, page.menu)
        return _first_of(request, due, page.menu, None, is_new=page.is_new)
    spent = page if page.planned.is_spent else None
    return _first_of(request, page.cards, page.menu, None, is_new=page.is_new, spent=spent)


def _goes_on(request: HouseRequest) -> bool:
    return request.GET.get("on") == "1"


def _first_of(
    request: HouseRequest,
    due: list[DueCard],
    menu: Menu,
    coming: ahead.Coming | None,
    *,
    is_new: bool,
    spent: shift_page.NextShift | None = None,
) -> HttpResponse:
    """The first card that is due, with why; or how the round ended."""
    left = _left(request.GET.get("left"), len(due))
    if not left:
        done = {
            "is_new": is_new,
            "coming": coming,
            "waiting": bool(due),
            "missed": reads.missed_lately(request.membership, timezone.now()),
            "again": _shift_cards(request, coming),
            **(_spent(spent) if spent else {}),
        }
        return render(request, "assessments/cards_done.html", done)
    aside = _("%(count)s left") % {"count": left}
    return _card(request, due[0].item, menu, NoForm(), aside, coming, left, due=due[0])


def _spent(page: shift_page.NextShift) -> dict[str, object]:
    return {
        "is_spent": True,
        "studied": page.studied,
        "a_day": page.planned.minutes,
        "waiting_cards": page.planned.plan.waiting,
    }


def _left(said: str | None, due: int) -> int:
    """How many cards of the round are left; a round begins with all that are due."""
    return due if said is None else min(number_or_404(said), due)


def _left_after(said: str | None) -> int | None:
    """The same once this card is done; None where the form says nothing of a round."""
    return None if said is None else max(0, number_or_404(said) - 1)


def _shift_cards(
    request: HouseRequest, coming: ahead.Coming | None, left: int | None = None
) -> str:
    path = reverse("shift_cards", kwargs={"house": request.venue.slug})
    said = {
        "as_of": coming.code if coming else None,
        "on": "1" if _goes_on(request) else None,
        "left": left,
    }
    query = urlencode({name: value for name, value in said.items() if value is not None})
    return f"{path}?{query}" if query else path


@member(May.LEARN, methods=READ_AND_SEND)
def module_cards(request: HouseRequest, module: str) -> HttpResponse:
    """All cards of one module in the order of the menu; `?card=` counts from 1."""
    if shut := _in_a_rush(request):
        return shut
    row, menu, form = module_or_404(request, module), menu_now(request), NoForm()
    items = menu.of_module(row)
    if request.method == "POST":
        item, form = _mark(request, menu, items)
        if not form.errors:
            return _after(request, row.slug, items.index(item) + 1, len(items))
    else:
        item = _nth(items, request.GET.get("card", "1"))
    count = {"done": items.index(item) + 1, "total": len(items)}
    due = changed_card(menu, item, known_to(request.membership, menu))
    return _card(request, item, menu, form, _("%(done)s of %(total)s") % count, due=due)


def _nth(items: tuple[MenuDrink, ...], said: str) -> MenuDrink:
    number = number_or_404(said)
    if not 1 <= number <= len(items):
        raise Http404
    return items[number - 1]


def _after(request: HouseRequest, module: str, done: int, total: int) -> HttpResponse:
    if done < total:
        return redirect(f"{request.path}?card={done + 1}")
    return redirect("module", house=request.venue.slug, module=module)


def _mark(
    request: HouseRequest, menu: Menu, items: tuple[MenuDrink, ...]
) -> tuple[MenuDrink, NoForm]:
    """Mark the card that was sent; errors stand in the form."""
    item, form = drink_or_404(menu, request.POST.get("drink", "")), NoForm({})
    if item not in items:
        raise Http404
    with refusals_beside(form):
        record.mark_card(
            by=request.membership,
            menu=menu,
            item=item,
            missed=_missed(request),
            milliseconds=milliseconds(request.POST.get("ms", "")),
            seen=request.POST.get("build", ""),
            at=timezone.now(),
        )
        if _missed(request):
            _say_hooks(request, item)
    return item, form


def _say_hooks(request: HouseRequest, item: MenuDrink) -> None:
    for hook in hooks.hooks_on(request.membership, item.recipe):
        said = {"drink": item.drink.name, "hook": hook.said}
        messages.info(request, _("%(drink)s. %(hook)s") % said)


def _missed(request: HouseRequest) -> list[Aspect]:
    """In the order of a build. A part that there is none of answers 400: nothing is marked."""
    said = set(request.POST.getlist("missed"))
    if unknown := said - {aspect.value for aspect in Aspect}:
        raise BadRequest(f"no such part: {min(unknown)[:40]}")
    return [aspect for aspect in Aspect if aspect.value in said]


@dataclass(frozen=True)
class CardAspect:
    aspect: Aspect
    label: str
    lines: list[str]


def _card(
    request: HouseRequest,
    item: MenuDrink,
    menu: Menu,
    form: NoForm,
    aside: str = "",
    coming: ahead.Coming | None = None,
    left: int | None = None,
    *,
    due: DueCard | None = None,
) -> HttpResponse:
    back, html = _back_of(request, item, menu, coming, due.told if due else ())
    context = {
        "item": item,
        "menu": menu,
        "build": back.build,
        "back": back.aspects,
        "html": html,
        "hooks": hooks.hooks_on(request.membership, item.recipe),
        "form": form,
        "aside": aside,
        "due": due,
        "coming": coming,
        "left": left,
    }
    return render(request, "assessments/card.html", context)


def _back_of(
    request: HouseRequest,
    item: MenuDrink,
    menu: Menu,
    coming: ahead.Coming | None,
    told: tuple[Aspect, ...],
) -> tuple[CardBack, dict[str, str] | None]:
    """With its kept markup; what one person knows otherwise is marked for them alone."""
    if told:
        return CardBack.of(item, menu, told), None
    key = (item.drink.slug, coming.code if coming else "")
    kept = kept_page(request.venue, "card", *key, make=lambda: CardBack.of(item, menu))
    return kept.shown, kept.html


@dataclass(frozen=True)
class CardBack:
    """What the back of a card says, and the print of the build that it says it of."""

    build: str
    aspects: list[CardAspect]

    @classmethod
    def of(cls, item: MenuDrink, menu: Menu, told: tuple[Aspect, ...] = ()) -> CardBack:
        return cls(prints.of_build(item.drink), _back(item, menu, told))


def _back(item: MenuDrink, menu: Menu, told: tuple[Aspect, ...]) -> list[CardAspect]:
    """The back of a card: every aspect that holds something to know, or held it for this person."""
    naming = Naming.of(menu)
    return [
        CardAspect(
            a,
            aspect_label(a, item.drink.spec, menu.pantry),
            [*naming.aspect(a, item.drink.contents[a]), *_pour_rules(item, a, menu)],
        )
        for a in Aspect
        if item.drink.topics_of(a) or a in told
    ]


def _pour_rules(item: MenuDrink, aspect: Aspect, menu: Menu) -> list[str]:
    """How much a pour is here: no other line of the card says it."""
    rules = [t.rule for t in item.drink.topics_of(aspect) if t.rule and t.is_pour_size]
    return [rule_says(rule, item.drink.spec, menu) for rule in rules]
