"""Going to the pages of pages.py as somebody, and saying what came of it in the table's words."""

from __future__ import annotations

import json
import re
from typing import Any

from django.conf import settings
from django.contrib.sessions.models import Session
from django.http import HttpResponse
from django.test.client import ClientHandler
from django.urls import reverse

from barcourse.people.models import Membership
from tests.cast import Visitor
from tests.factories.whole_house import Town, Whole
from tests.forms_on_pages import form_to
from tests.page_forms import FORM_ON, TYPED
from tests.pages import pages, parts

# One for all browsers: reading the site's middleware anew costs more than most pages do.
_SITE = ClientHandler(enforce_csrf_checks=False)

PAGES = {page.name: page for page in pages()}


def visitor(town: Town, who: str) -> Visitor:
    """The browser of a column of the table, at Harbour Lights."""
    if who == "other":
        return browser_of(town.anchor.owner)
    return browser_of(member_of(town.harbour, who))


def member_of(house: Whole, who: str) -> Membership | None:
    found: Membership | None = {"nobody": None, "left": house.gone}.get(who) or getattr(
        house, who, None
    )
    return found


# The keys of sessions by person. Signing in costs as much as many a page, and a sweep over all
# pages does it thousands of times.
_signed_in: dict[int, str] = {}


def sign_everybody_in(town: Town) -> None:
    """For as long as the town stands: what a page does to a session is undone with all else."""
    _signed_in.clear()
    houses = (town.harbour, town.anchor)
    people = [member for h in houses for member in (h.owner, h.manager, h.trainer, h.hire, h.gone)]
    for member in (*people, town.bo):
        browser = Visitor()
        browser.force_login(member.person)
        _signed_in[member.person_id] = browser.cookies[settings.SESSION_COOKIE_NAME].value


def browser_of(member: Membership | None) -> Visitor:
    browser = Visitor()
    browser.handler = _SITE
    if member is None:
        return browser
    key = _signed_in.get(member.person_id)
    if key and Session.objects.filter(pk=key).exists():
        browser.cookies[settings.SESSION_COOKIE_NAME] = key
    else:
        browser.force_login(member.person)
    return browser


def address(page: str, house: Whole, other: dict[str, str] | None = None) -> str:
    """Of a thing of this house; `other` puts something else in a part of it."""
    return reverse(page, kwargs={**parts(PAGES[page], house), **(other or {})})


def ask(
    browser: Visitor, method: str, path: str, sent: dict[str, Any] | None = None
) -> HttpResponse:
    """A POST carries a form key of its own; a PUT is what a script sends."""
    if method == "POST":
        return browser.send(path, sent or {})
    if sent:
        return browser.generic(method, path, json.dumps(sent), "application/json")
    return browser.generic(method, path)


def answer(response: HttpResponse) -> str:
    """A cell of the table."""
    if response.status_code == 302:
        return "door" if response["Location"].startswith(reverse("sign_in")) else "goes"
    if response.status_code != 200:
        return str(response.status_code)
    if response["Content-Type"].startswith("text/html"):
        return "page"
    return "pdf" if response["Content-Type"] == "application/pdf" else "data"


_OWN_WORDS = re.compile(r"<(script|style|textarea|title|svg)\b.*?</\1>|<!--.*?-->", re.DOTALL)
_RUNS_ON = re.compile(r"</?(?:a|b|bdi|em|i|small|span|strong)\b[^>]*>")
_SLIP = re.compile(r"\S+ ?(?<!\.)\.\.(?!\.)|\S+ ,(?= |$)")


def slips_in(page: str) -> list[str]:
    """Two full stops in a row, a comma after a blank: as somebody reads them."""
    flat = _RUNS_ON.sub("", re.sub(r"\s+", " ", _OWN_WORDS.sub(" ", page)))
    return [slip for text in re.split(r"<[^>]+>", flat) for slip in _SLIP.findall(text.strip())]


def filled_in(page: str, house: Whole) -> dict[str, Any]:
    """What the page's form sends when it is filled in rightly, as it stands on its page now."""
    typed = TYPED.get(page, lambda house: {})(house)
    if page not in FORM_ON:
        return typed
    shown_on, who = FORM_ON[page]
    own = parts(PAGES[page], house)
    same = {name: own[name] for name in PAGES[shown_on].parts if name in own}
    at = address(shown_on, house, same)
    shown = browser_of(member_of(house, who)).get(at)
    assert shown.status_code == 200, (at, shown.status_code)
    return {**form_to(shown.content.decode(), at, address(page, house)), **typed}
