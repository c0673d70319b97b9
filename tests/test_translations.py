"""Nothing reaches a reader that was not offered to a translator: every page of the site, in a
language that nobody speaks."""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Iterator
from typing import Any

import pytest
import time_machine
from django.http import HttpResponse
from django.template import loader
from django.utils.functional import Promise

from assessments import record
from assessments.measures.quiz import ItemAsked
from assessments.models import Quiz, WatchedBuild
from barcourse.papers import pdf
from barcourse.papers.models import Certificate
from barcourse.people.models import Invitation, LogEntry, Membership, Person, Venue
from recipes.models import Ingredient, Recipe, Revision, RulesVersion
from recipes.publish_ingredients import read_label
from recipes.publish_recipes import retire
from recipes.shipped import shipped_rules
from tests.factories.assessments import wrong as wrong_answer
from tests.factories.whole_house import NOW, Town, just_opened, town, undone
from tests.page_forms import FORM_ON
from tests.pages import VISITORS, Line, lines
from tests.pseudo import said, spoken, typed, unsaid
from tests.visiting import (
    PAGES,
    address,
    answer,
    ask,
    browser_of,
    filled_in,
    sign_everybody_in,
    visitor,
)

pytestmark = pytest.mark.django_db

LINES = [line for line in lines() if line.page in PAGES]
SHOWN = [line for line in LINES if line.method == "GET" and "page" in line.answers.values()]
SENT = [line for line in LINES if line.page in FORM_ON and line.method == "POST"]
PAPERS = [line for line in LINES if "pdf" in line.answers.values()]


@pytest.fixture(scope="module")
def the_town(django_db_setup: None, django_db_blocker: Any) -> Iterator[Town]:
    """Every page has been opened in English once: whatever keeps its words is caught out. A page
    that breaks does so in its own test below."""
    with django_db_blocker.unblock(), town(typed) as built:
        sign_everybody_in(built)
        for line in SHOWN:
            browser = visitor(built, next(w for w in VISITORS if line.answers[w] == "page"))
            browser.raise_request_exception = False
            with undone():
                ask(browser, "GET", address(line.page, built.harbour))
        yield built


@pytest.fixture
def codes(the_town: Town) -> tuple[str, ...]:
    """What is the same in every language, as it stands in the database: codes, hashes, links."""
    return known_codes()


def known_codes() -> tuple[str, ...]:
    found: set[str] = set()
    for model, name in (
        (Venue, "slug"),
        (Venue, "timezone"),
        (RulesVersion, "rules__preset"),
        (Person, "sign_in"),
        (Membership, "code"),
        (Certificate, "code"),
        (Certificate, "log_hash"),
        (LogEntry, "hash"),
        (Quiz, "code"),
        (Invitation, "code"),
    ):
        found |= set(model._default_manager.values_list(name, flat=True))
    heads = {hash_[:8] for hash_ in LogEntry.objects.values_list("hash", flat=True)}
    return tuple(sorted(found, key=len, reverse=True)) + tuple(heads)


def words_left(response: HttpResponse, codes: tuple[str, ...]) -> list[str]:
    assert response["Content-Type"].startswith("text/html")
    return unsaid(response.content.decode(response.charset), codes)


def test_a_page_in_plain_english_is_caught(the_town, codes):
    response = browser_of(the_town.harbour.hire).get(address("next_shift", the_town.harbour))

    assert "Next shift" in words_left(response, codes)


@pytest.mark.parametrize("line", SHOWN, ids=str)
def test_a_page_says_nothing_untranslated(the_town, codes, line: Line):
    path = address(line.page, the_town.harbour)
    for who in VISITORS:
        if line.answers[who] == "page":
            with undone(), spoken():
                response = ask(visitor(the_town, who), "GET", path)
            assert response.status_code == 200
            assert words_left(response, codes) == [], who


def who_sends(line: Line) -> str:
    wanted = FORM_ON[line.page][1]
    return wanted if line.answers[wanted] in ("goes", "page") else "owner"


@pytest.mark.parametrize("line", SENT, ids=str)
def test_nor_does_what_comes_of_a_form(the_town, codes, line: Line):
    """The page that it leads to, with its message. What is typed into it is marked as such."""
    sent = marked(line, filled_in(line.page, the_town.harbour))
    browser = visitor(the_town, who_sends(line))
    with undone(), spoken():
        response = ask(browser, "POST", address(line.page, the_town.harbour), sent)
        for _step in range(4):
            if response.status_code == 302:
                response = browser.get(response["Location"])

    assert response.status_code == 200
    own = OWN_WORDS.get(line.page, ())
    left = words_left(response, (*codes, *own))
    if line.page == "house_rules_preset":  # a glass that is new to the house, as its file says
        left = [text for text in left if text not in PRESET_GLASSES]
    assert left == []


PRESET_WORDS = tuple(shipped_rules("us-classic").patterns)
OWN_WORDS = {"house_rules_preset": PRESET_WORDS, "sales_take": ("item", "quantity", "Gin tonic")}
"""What a page shows of a file as the file says it: a preset's words, the columns of an export."""
PRESET_GLASSES = {glass.name for glass in shipped_rules("us-classic").glasses.values()}

WORDS_IN = {
    "void": "reason",
    "take_back_hand": "reason",
    "side_work_take_back": "reason",
    "hook": "text",
    "certificate_revoke": "reason",
    "invite": "names",
    "tablet_enrol": "name",
    "drink_new": "name",
    "ingredient_new": "name",
    "lesson_new": "name",
    "quiz_sheet_new": "name",
    "question_new": "question",
}


def marked(line: Line, sent: dict[str, Any]) -> dict[str, Any]:
    name = WORDS_IN.get(line.page)
    return {**sent, name: typed(sent[name])} if name else sent


@pytest.mark.parametrize("bad", [None, "", typed("?")], ids=["nothing", "empty", "nonsense"])
@pytest.mark.parametrize("line", SENT, ids=str)
def test_nor_does_a_form_filled_in_wrongly(the_town, codes, line: Line, bad: str | None):
    right = filled_in(line.page, the_town.harbour)
    sent = {} if bad is None else dict.fromkeys(right, bad)
    with undone(), spoken():
        browser = visitor(the_town, who_sends(line))
        response = ask(browser, "POST", address(line.page, the_town.harbour), sent)

    assert answer(response) in ("page", "goes", "door", "404", "400", "409")
    if response.status_code != 302:
        assert words_left(response, codes) == []


@pytest.mark.parametrize(
    ("page", "who", "sent", "status"),
    [
        ("house", "hire", None, 403),
        ("house", "other", None, 404),
        ("module_read", "hire", {"form_key": "none"}, 400),
        ("open_house", "nobody", None, 403),
    ],
)
def test_nor_does_a_refusal(the_town, codes, page, who, sent, status):
    browser, path = visitor(the_town, who), address(page, the_town.harbour)
    with undone(), spoken():
        response = browser.get(path) if sent is None else browser.post(path, sent)

    assert response.status_code == status
    assert words_left(response, codes) == []


def test_nor_does_a_dead_link(the_town, codes):
    with undone(), spoken():
        response = browser_of(None).get("/join/no-such-link/")

    assert response.status_code == 410
    assert words_left(response, codes) == []


def test_nor_does_the_last_page_of_all():
    with spoken():
        html = loader.render_to_string("people/error.html", {"title": said("x"), "words": ""})

    assert unsaid(html) == []


FIRST_PAGES = [x for x in SHOWN if PAGES[x.page].parts == ("house",)]


@pytest.mark.parametrize("line", FIRST_PAGES, ids=str)
def test_nor_does_a_page_of_a_house_that_has_just_opened(the_town, line: Line):
    """With nobody in training and nothing on record, pages say so in other words."""
    with undone():
        owner = just_opened(typed)
        there = address(line.page, the_town.harbour, {"house": owner.venue.slug})
        with spoken():
            response = browser_of(owner).get(there)
        codes = known_codes()

    assert response.status_code == 200
    assert words_left(response, codes) == []


@pytest.mark.parametrize("line", PAPERS, ids=str)
def test_nor_does_a_paper(the_town, codes, line: Line, monkeypatch):
    laid_out = []
    render = pdf.render_to_string

    def keep(template: str, context: dict[str, Any]) -> str:
        laid_out.append(render(template, context))
        return laid_out[-1]

    monkeypatch.setattr(pdf, "render_to_string", keep)
    who = next(w for w in VISITORS if line.answers[w] == "pdf")
    with spoken():
        response = ask(visitor(the_town, who), "GET", address(line.page, the_town.harbour))

    assert answer(response) == "pdf"
    assert [unsaid(html, codes) for html in laid_out] == [[]]


def stations_paper(built: Town, **state: Any) -> str:
    return str(Certificate.objects.filter(hire=built.harbour.hire, **state)[0].code)


def voided(built: Town) -> str:
    return str(WatchedBuild.objects.filter(hire=built.harbour.hire, void__isnull=False)[0].code)


STATES = {
    "a paper that holds": ("check_paper", lambda t: stations_paper(t, revocation=None), 0),
    "one that has run out": ("check_paper", lambda t: stations_paper(t, revocation=None), 400),
    "a revoked one": ("check_paper", lambda t: stations_paper(t, revocation__isnull=False), 0),
    "none": ("check_paper", lambda t: "no-such-paper", 0),
    "a voided build": ("build", voided, 0),
    "a hire who left": ("hire_record", lambda t: t.harbour.gone.code, 0),
    "somebody who left": ("person", lambda t: t.harbour.gone.code, 0),
}
"""Of one page, several: the page, what its address names, and how many days from now."""


@pytest.mark.parametrize(("page", "code", "days"), STATES.values(), ids=STATES)
def test_nor_does_a_page_in_another_state(the_town, codes, page, code, days):
    path = address(page, the_town.harbour, {"code": code(the_town)})
    with time_machine.travel(NOW + dt.timedelta(days=days)), undone(), spoken():
        response = browser_of(the_town.harbour.owner).get(path)

    assert response.status_code == (404 if code(the_town) == "no-such-paper" else 200)
    assert words_left(response, (*codes, "no-such-paper")) == []


def test_nor_does_the_review_of_a_quiz_that_went_wrong(the_town, codes):
    house = the_town.harbour
    browser, asked = browser_of(house.hire), house.quiz.items.all()
    with undone():
        for item in asked:
            wrong = wrong_answer(ItemAsked.from_json(item.asked))
            record.answer_item(by=house.hire, item=item, choice=wrong, at=NOW)
        with spoken():
            response = browser.get(address("quiz_result", house, {"code": house.quiz.code}))

    assert response.status_code == 200
    assert len(response.context["page"].review) > len(asked) / 2
    assert words_left(response, codes) == []


WHILE_TYPING = {
    "a build": {"parts": "50 ml gin", "name": typed("Quay")},
    "one without a name": {"parts": "50 ml gin", "name": ""},
    "too much": {"parts": "900 ml gin", "name": typed("Quay")},
    "nothing": {"parts": "", "name": typed("Quay")},
}


@pytest.mark.parametrize("page", ["drink_new", "drink_change"])
@pytest.mark.parametrize("sent", WHILE_TYPING.values(), ids=WHILE_TYPING)
def test_nor_does_what_follows_the_typing(the_town, codes, page, sent):
    """The fragment beside the form of a drink."""
    house, fragment = the_town.harbour, page.replace("_change", "") + "_preview"
    browser = browser_of(house.trainer)
    form = {**filled_in(page, house), **sent}
    with undone(), spoken():
        response = ask(browser, "POST", address(fragment, house), form)

    assert response.status_code == 200
    assert words_left(response, codes) == []


def _retired(house: Any) -> None:
    recipe = Recipe.objects.get(venue=house.venue, slug=house.drink)
    retire(by=house.trainer, recipe=recipe, at=NOW)


def _retiring(house: Any) -> None:
    recipe = Recipe.objects.get(venue=house.venue, slug=house.drink)
    retire(by=house.trainer, recipe=recipe, at=NOW, retires_at=NOW + dt.timedelta(days=1))


def _priced(house: Any) -> None:
    Ingredient.objects.in_house(house.venue).update(bottle_ml=700, bottle_price=12)
    Recipe.objects.in_house(house.venue).update(price=9)


def _label_read(house: Any) -> None:
    read_label(by=house.trainer, ingredient=house.bottle, allergens=["milk"], at=NOW)


@pytest.mark.parametrize(
    ("page", "change"),
    [
        ("drink", _retired),
        ("drink", _retiring),
        ("drink", _priced),
        ("book", _retired),
        ("ingredients", _priced),
        ("ingredients", _label_read),
        ("ingredient", _label_read),
        ("ingredient_label", _label_read),
    ],
)
def test_nor_does_a_page_of_a_book_that_was_edited(the_town, codes, page, change):
    house = the_town.harbour
    with undone():
        change(house)
        with spoken():
            response = browser_of(house.trainer).get(address(page, house))

    assert response.status_code == 200
    assert words_left(response, codes) == []


@pytest.mark.parametrize("rules", ["then", "now", typed("never")])
def test_nor_do_two_revisions_side_by_side(the_town, codes, rules):
    house = the_town.harbour
    slug = Revision.objects.get(venue=house.venue, number=2).recipe.slug
    there = address("drink_compare", house, {"slug": slug})
    with undone(), spoken():
        response = browser_of(house.trainer).get(there, {"a": 1, "b": 2, "rules": rules})

    assert response.status_code == 200
    assert words_left(response, codes) == []


def catalogues() -> Iterator[tuple[str, dict[Any, Any]]]:
    """Dicts of words, wherever in the program they stand."""
    for name, module in sorted(sys.modules.items()):
        if name.split(".")[0] in ("barcourse", "recipes", "assessments"):
            for key, value in vars(module).items():
                if isinstance(value, dict) and any(isinstance(v, Promise) for v in value.values()):
                    yield f"{name}.{key}", value


def test_a_catalogue_of_words_is_translated_throughout():
    found = dict(catalogues())

    assert len(found) > 8
    for name, words in found.items():
        plain = [w for w in words.values() if not isinstance(w, Promise) and said(w) != w]
        assert plain == [], name
