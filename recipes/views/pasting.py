"""Paste your menu: type or send it, say of each line what it is, and that is the menu."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.reasons import Reason as PeopleReason
from barcourse.people.roles import May
from recipes import words_editing
from recipes.based_on import WAS, read_was, write_was
from recipes.grammar.ingredients import Kind
from recipes.grammar.menu_book import Book
from recipes.grammar.menu_lines import Match, match_menu
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.spec import Ice, Method
from recipes.import_words import sheet_problems
from recipes.importing import MOST_KB
from recipes.menu import Menu, pantry_of
from recipes.menu_sheet import (
    TypedMenu,
    Unread,
    menu_of_file,
    menu_of_text,
    read_sold,
    written_sold,
)
from recipes.models import Module, Recipe
from recipes.pasting import (
    FIRST,
    Group,
    book_of,
    rows,
    sales_known,
    seen_digest,
    without_open,
)
from recipes.pasting_calls import heard_as_calls
from recipes.pasting_choices import NotChosen, chosen, stock_of
from recipes.pasting_draft import take_in
from recipes.pasting_since import changed_since, stands
from recipes.publish_pasted import CannotPaste, Pasted, take_menu
from recipes.saying import sentence
from recipes.views.finding import menu_or_404
from recipes.views.meeting import hold_where_sent
from recipes.wording import label

MOST_LETTERS = 30_000
MOST_LINES = 300

Wrong = Mapping[int, tuple[str, ...]]


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def book_paste(request: HouseRequest) -> HttpResponse:
    """First the text, then a form with a choice for every line."""
    hold_where_sent(request)
    menu = menu_or_404(request)
    try:
        typed = _typed(request) if request.method == "POST" else TypedMenu("", {})
    except CannotBuild as bad:
        return _ask(request, "", " ".join(sheet_problems(bad.reasons)))
    text = typed.text
    if len(text) > MOST_LETTERS or len(text.splitlines()) > MOST_LINES:
        return _ask(request, text[:MOST_LETTERS], _("That is longer than any menu. Shorten it."))
    book = book_of(request.venue, menu, menu.at)
    matches = heard_as_calls(match_menu(text, book), menu)
    if not matches:
        empty = _("There is no drink in this yet.") if request.method == "POST" else ""
        return _ask(request, text, empty)
    page = _Lines(request, typed, matches, book, menu)
    if "seen" not in request.POST:
        return page.shown()
    since = page.since()
    if since or request.POST["seen"] != seen_digest(matches):
        return page.shown(request.POST, {0: (*since, _("Look at the lines once more."))})
    if "leave_open" in request.POST:
        return page.shown(without_open(matches, request.POST))
    return _take(page, menu) if "take" in request.POST else page.shown()


def _take(page: _Lines, menu: Menu) -> HttpResponse:
    request, sent = page.request, page.request.POST
    try:
        with transaction.atomic():
            take_in(request.membership, stock_of(page.matches, sent, menu), menu.at)
            stocked = replace(menu, pantry=pantry_of(request.venue))
            sold = chosen(page.matches, sent, stocked, page.book)
            drop = "drop_rest" in sent
            done = take_menu(by=request.membership, sold=sold, drop_rest=drop, at=menu.at)
    except NotChosen as bad:
        return page.shown(sent, bad.wrong)
    except CannotPaste as bad:
        return page.shown(sent, _worded(bad, menu))
    messages.success(request, _done(done))
    return redirect("book", house=request.venue.slug)


def _ask(request: HouseRequest, text: str, wrong: str) -> HttpResponse:
    context = {"text": text, "wrong": wrong, "most": MOST_LINES}
    return render(request, "recipes/paste.html", context)


def _typed(request: HouseRequest) -> TypedMenu:
    """What was sent first, or what the second step carries on."""
    file = request.FILES.get("file")
    if file is not None and file.size:
        return menu_of_file(file.read((MOST_KB + 1) * 1000))
    said = request.POST.get("menu", "")
    if "seen" in request.POST:
        return TypedMenu(said, read_sold(request.POST.get("sold", "")))
    return menu_of_text(said)


@dataclass(frozen=True)
class _Lines:
    """The form with a choice for every line."""

    request: HouseRequest
    typed: TypedMenu
    matches: Sequence[Match]
    book: Book
    menu: Menu

    def shown(
        self, sent: Mapping[str, str] | None = None, wrong: Wrong | None = None
    ) -> HttpResponse:
        """With `sent` as it was filled in, else as it is proposed."""
        recipes = list(Recipe.objects.in_house(self.request.venue))
        meant = {match.chosen for match in self.matches if match.chosen}
        others = [r for r in recipes if r.slug not in meant and not r.is_retired(self.menu.at)]
        shares = self._shares(recipes)
        lines = rows(self.matches, self.book, self.menu, shares, sent, wrong)
        groups = {g.value: [row for row in lines if row.group is g] for g in Group}
        context = {
            **groups,
            "onward": list(zip_longest(groups[Group.OPEN], groups[Group.OPEN][1:])),
            "text": self.typed.text,
            "sold": written_sold(self.typed.sold),
            "seen": seen_digest(self.matches),
            "was": write_was(stands(recipes)),
            "names": sorted(known.name for known in self.book.drinks),
            "wrong": wrong or {},
            "whole": (wrong or {}).get(0, ()),
            "unread": [_unread(cell) for cell in self.typed.unread],
            "drop_rest": "drop_rest" in (sent or {}),
            "rest": len([r for r in others if r.is_poured]),
            "no_more": len([r for r in others if r.must_know]),
            "by_sales": sales_known(meant, shares),
            "first": FIRST,
            "glasses": sorted(self.menu.glass_names.items(), key=lambda pair: pair[1]),
            "ices": [(ice.value, label(ice)) for ice in Ice],
            "methods": [(method.value, label(method)) for method in Method],
            "modules": list(
                Module.objects.in_house(self.request.venue).values_list("slug", "name")
            ),
            "kinds": sorted(((k.value, label(k)) for k in Kind), key=lambda pair: pair[1]),
            "must_know": sum(row.must_know for row in lines),
        }
        return render(self.request, "recipes/paste_lines.html", context)

    def since(self) -> tuple[str, ...]:
        """What others have changed of the drinks since the lines were shown."""
        was = read_was(self.request.POST.get(WAS, ""))
        return tuple(changed_since(was, Recipe.objects.in_house(self.request.venue)))

    def _shares(self, recipes: Sequence[Recipe]) -> dict[str, float]:
        """What sells: as the sheet counted it, else as the book has it."""
        if not self.typed.sold:
            return {recipe.slug: recipe.share for recipe in recipes}
        counted = dict.fromkeys((recipe.slug for recipe in recipes), 0.0)
        for match in self.matches:
            if match.chosen:
                counted[match.chosen] += self.typed.sold.get(match.line.number, 0.0)
        return counted


def _unread(cell: Unread) -> str:
    told = {"item": cell.item, "said": cell.said}
    if cell.column == "price":
        return _("%(item)s: “%(said)s” is no price, so it has none from this sheet.") % told
    return _("%(item)s: “%(said)s” is no number sold, so none is counted.") % told


def _worded(bad: CannotPaste, menu: Menu) -> Wrong:
    return {
        line: tuple(_said(reason, menu) for reason in reasons)
        for line, reasons in bad.reasons.items()
    }


def _said(reason: Reason | PeopleReason, menu: Menu) -> str:
    if isinstance(reason, PeopleReason):
        return words_editing.say(reason)
    return sentence(reason, menu, dict(menu_names(menu)))


def menu_names(menu: Menu) -> dict[str, str]:
    """What drinks are called, by slug, for a refusal that is about another drink."""
    return {slug: item.recipe.name for slug, item in menu.by_slug.items()}


def _done(done: Pasted) -> str:
    new, changed = len(done.added), len(done.changed)
    first = ngettext("%(n)s new drink", "%(n)s new drinks", new) % {"n": new}
    then = ngettext(
        "%(n)s drink stands otherwise on the menu",
        "%(n)s drinks stand otherwise on the menu",
        changed,
    )
    return _("That is the menu: %(new)s, %(changed)s.") % {
        "new": first,
        "changed": then % {"n": changed},
    }
