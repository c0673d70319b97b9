"""Who mixes up what, and a drill for it two taps away."""

from __future__ import annotations

import secrets
from collections import Counter
from dataclasses import dataclass

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from assessments import board, record_quiz, record_set
from assessments.kept_pages import answers_of, kept_page, minute_of
from assessments.measures.marking import RIGHT_DRINK
from assessments.measures.mixups import MOST_ROWS, Pair, heat_map, pairs
from assessments.models import DrillFor, MadeInstead
from assessments.reads_quiz import seen_lately
from assessments.views.finding import build_or_404, drink_or_404, menu_now
from assessments.views.forms import NoForm, refusals_beside
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May
from recipes.drink_sheet import differences
from recipes.grammar.lookalikes import nearest
from recipes.menu import Menu, MenuDrink

LISTED = 30
"""So many pairs stand on the page (our own number, no source)."""

FIRST = 10
"""So many of them at once; the others unfold (our own number, no source)."""

ON_A_PHONE = 5
"""So many columns to tap fit the narrowest phone; more of them scroll inside the map."""

NEAREST = 8

SOURCES: dict[str, Promise] = {
    "quiz": gettext_lazy("quizzes"),
    "call": gettext_lazy("calls"),
    "watch": gettext_lazy("watched builds"),
}


@dataclass(frozen=True)
class PairShown:
    """A pair in words: the names, how often, where, and by whom."""

    pair: Pair
    asked: str
    given: str
    sources: str
    people: str


@member(May.WATCH)
def page(request: HouseRequest) -> HttpResponse:
    """Every pair that was mixed up lately, as a list and as a map."""
    venue = request.venue
    key = ("mix-ups", answers_of(venue), minute_of(timezone.now()))
    kept = kept_page(venue, *key, make=lambda: _told(menu_now(request)))
    return render(request, "assessments/mix_ups.html", {**kept.shown, "html": kept.html})


def _told(menu: Menu) -> dict[str, object]:
    hires = board.hires_here(menu.venue, menu.at)
    found = pairs(seen_lately(hires, menu))
    listed = [_shown(p, menu, hires) for p in found[:LISTED]]
    return {
        "pairs": listed[:FIRST],
        "others": listed[FIRST:],
        "listed": len(listed),
        "found": len(found),
        "map": _map_of(found, menu, hires),
    }


def _shown(pair: Pair, menu: Menu, hires: list[Membership]) -> PairShown:
    names = {h.pk: h.name for h in hires}
    return PairShown(
        pair=pair,
        asked=menu.by_slug[pair.asked].drink.name,
        given=_name(menu, pair.given),
        sources=_(", ").join(str(SOURCES[s]) for s in pair.sources),
        people=_(", ").join(names[pk] for pk in pair.who if pk in names),
    )


def _name(menu: Menu, slug: str) -> str:
    return menu.by_slug[slug].drink.name if slug in menu.by_slug else slug


@dataclass(frozen=True)
class CellShown:
    """Where a row and a column meet; no pair where the two were not mixed up."""

    pair: PairShown | None
    shade: int


def _map_of(
    found: tuple[Pair, ...], menu: Menu, hires: list[Membership]
) -> dict[str, object] | None:
    """Names and cells; none where nothing is mixed up."""
    if not found:
        return None
    heat, at = heat_map(found), {(p.asked, p.given): p for p in found}

    def cell(asked: str, given: str, shade: int) -> CellShown:
        return CellShown(_shown(at[asked, given], menu, hires) if shade else None, shade)

    rows = [
        (
            _name(menu, asked),
            [cell(asked, g, s) for g, (_n, s) in zip(heat.given, row, strict=True)],
        )
        for asked, row in zip(heat.asked, heat.cells, strict=True)
    ]
    given = [_name(menu, g) for g in heat.given]
    wide = len(given) > ON_A_PHONE
    return {"given": given, "rows": rows, "shown": heat.shown, "side": MOST_ROWS, "wide": wide}


@member(May.WATCH, methods=READ_AND_SEND)
def pair(request: HouseRequest, drink: str, other: str) -> HttpResponse:
    """Two drinks, and who is to tell them apart: those who mix them up are ticked already."""
    menu, form = menu_now(request), NoForm({})
    one, two = drink_or_404(menu, drink), drink_or_404(menu, other)
    if request.method == "POST":
        hires = board.hires_here(request.venue, menu.at)
        chosen = [h for h in hires if h.code in request.POST.getlist("hires")]
        with refusals_beside(form):
            drill = record_set.set_drill(
                by=request.membership, one=one.recipe, other=two.recipe, hires=chosen, at=menu.at
            )
            messages.success(request, _said(drill.people.count()))
            return redirect("mix_ups", house=request.venue.slug)
    key = ("mix-up", one.drink.slug, two.drink.slug, answers_of(request.venue), minute_of(menu.at))
    kept = kept_page(
        request.venue, *key, make=lambda: (_times(menu, one, two), differences(one, two, menu))
    )
    people, apart = kept.shown
    context = {
        "one": one,
        "two": two,
        "both": (one, two),
        "apart": apart,
        "menu": menu,
        "hires": [row for row in people if not row.waiting],
        "waiting": [row for row in people if row.waiting],
        "html": kept.html if request.method == "GET" else None,
        "form": form if request.method == "POST" else NoForm(),
    }
    return render(request, "assessments/mix_up.html", context)


@dataclass(frozen=True)
class ToDrill:
    """Somebody, how often they mixed the two up, and the drill on them that waits already."""

    hire: Membership
    times: int
    waiting: DrillFor | None


def _times(menu: Menu, one: MenuDrink, two: MenuDrink) -> list[ToDrill]:
    """Everybody; who mixed them up most often first."""
    hires, both = board.hires_here(menu.venue, menu.at), {one.drink.slug, two.drink.slug}
    times = Counter(s.who for s in seen_lately(hires, menu) if {s.asked, s.given} == both)
    tasks = DrillFor.objects.to_do().on(one.recipe, two.recipe).select_related("drill__by__person")
    has = {task.hire_id: task for task in tasks}
    found = [ToDrill(h, times[h.pk], has.get(h.pk)) for h in hires]
    return sorted(found, key=lambda f: -f.times)


def _said(people: int) -> str:
    said = ngettext(
        "Set. It waits on the next shift of %(count)s person.",
        "Set. It waits on the next shift of %(count)s people.",
        people,
    )
    return said % {"count": people}


@member(May.LEARN, methods=SEND)
def start_drill(request: HouseRequest, code: str) -> HttpResponse:
    """A hire's own drill: its short quiz, or the one still open."""
    mine = DrillFor.objects.of(request.membership).select_related("drill__one", "drill__other")
    task, form = get_object_or_404(mine, drill__code=code), NoForm({})
    with refusals_beside(form):
        quiz = record_quiz.start_drill(
            by=request.membership, menu=menu_now(request), task=task,
            seed=secrets.randbelow(2**31), at=timezone.now(),
        )  # fmt: skip
        return redirect("quiz", house=request.venue.slug, code=quiz.code)
    messages.info(request, " ".join(str(e) for e in form.non_field_errors()))
    return redirect("next_shift", house=request.venue.slug)


@member(May.WATCH, methods=READ_AND_SEND)
def instead(request: HouseRequest, code: str) -> HttpResponse:
    """Which drink was made where another was called: the nearest look-alikes first."""
    watched, menu, form = build_or_404(request, code), menu_now(request), NoForm({})
    if RIGHT_DRINK.key not in watched.off or watched.recipe.slug not in menu.by_slug:
        raise Http404
    if request.method == "POST":
        made = drink_or_404(menu, request.POST.get("made", ""))
        with refusals_beside(form):
            record_set.say_made_instead(
                by=request.membership, watched=watched, made=made.recipe, at=timezone.now()
            )
            return redirect("build", house=request.venue.slug, code=watched.code)
    called = menu.by_slug[watched.recipe.slug].drink
    near = nearest(called, menu.drinks, len(menu.drinks))
    context = {
        "watched": watched,
        "near": near[:NEAREST],
        "others": sorted(near[NEAREST:], key=lambda d: d.name),
        "said": MadeInstead.objects.filter(watched=watched).select_related("made").first(),
        "form": form if request.method == "POST" else NoForm(),
    }
    return render(request, "assessments/made_instead.html", context)
