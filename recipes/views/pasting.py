"""Paste your menu: type or send it, say of each line what it is, and that is the menu."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.reasons import Reason as PeopleReason
from barcourse.people.roles import May
from recipes import words_editing
from recipes.grammar.menu_lines import Book, Match, match_menu
from recipes.grammar.reasons import Reason
from recipes.grammar.sheet_text import decode
from recipes.menu import Menu
from recipes.models import Recipe
from recipes.pasting import (
    FIRST,
    NotChosen,
    book_of,
    chosen,
    rows,
    sales_known,
    seen_digest,
)
from recipes.publish_pasted import CannotPaste, Pasted, take_menu
from recipes.saying import sentence
from recipes.views.finding import menu_or_404

MOST_LETTERS = 30_000
MOST_LINES = 300

Wrong = Mapping[int, tuple[str, ...]]


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def book_paste(request: HouseRequest) -> HttpResponse:
    """First the text, then a form with a choice for every line."""
    menu = menu_or_404(request)
    text = _text(request) if request.method == "POST" else ""
    if len(text) > MOST_LETTERS or len(text.splitlines()) > MOST_LINES:
        return _ask(request, text[:MOST_LETTERS], _("That is longer than any menu. Shorten it."))
    book = book_of(request.venue, menu, menu.at)
    matches = match_menu(text, book)
    if not matches:
        empty = _("There is no drink in this yet.") if request.method == "POST" else ""
        return _ask(request, text, empty)
    if request.POST.get("seen") != seen_digest(matches) or "take" not in request.POST:
        return _show(request, text, matches, book)
    try:
        sold = chosen(matches, request.POST, menu)
        drop = "drop_rest" in request.POST
        done = take_menu(by=request.membership, sold=sold, drop_rest=drop, at=menu.at)
    except NotChosen as bad:
        return _show(request, text, matches, book, bad.wrong)
    except CannotPaste as bad:
        return _show(request, text, matches, book, _worded(bad, menu))
    messages.success(request, _done(done))
    return redirect("book", house=request.venue.slug)


def _ask(request: HouseRequest, text: str, wrong: str) -> HttpResponse:
    context = {"text": text, "wrong": wrong, "most": MOST_LINES}
    return render(request, "recipes/paste.html", context)


def _text(request: HouseRequest) -> str:
    file = request.FILES.get("file")
    if file is not None and file.size:
        return decode(file.read(4 * MOST_LETTERS))[0]
    return request.POST.get("menu", "")


def _show(
    request: HouseRequest,
    text: str,
    matches: Sequence[Match],
    book: Book,
    wrong: Wrong | None = None,
) -> HttpResponse:
    """With `wrong` as it was filled in, else as it is proposed."""
    recipes = list(Recipe.objects.in_house(request.venue))
    shares = {recipe.slug: recipe.share for recipe in recipes}
    sent = request.POST if wrong is not None else None
    lines = rows(matches, book, shares, sent, wrong)
    meant = {match.chosen for match in matches if match.chosen}
    context = {
        "text": text,
        "seen": seen_digest(matches),
        "open": [row for row in lines if not row.sure],
        "sure": [row for row in lines if row.sure],
        "wrong": wrong or {},
        "whole": (wrong or {}).get(0, ()),
        "drop_rest": "drop_rest" in request.POST,
        "rest": sum(recipe.is_poured and recipe.slug not in meant for recipe in recipes),
        "by_sales": sales_known(meant, shares),
        "first": FIRST,
        "must_know": sum(row.must_know for row in lines),
    }
    return render(request, "recipes/paste_lines.html", context)


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
