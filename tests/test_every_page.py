"""Every page of the site, asked for by everybody, held against the written table of pages.py."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest

from barcourse.papers import pdf
from barcourse.people.roles import ROLE_MAY
from tests.factories.whole_house import Town, town, undone
from tests.pages import ROLES, VISITORS, Line, lines, pages, parts, rules
from tests.visiting import (
    PAGES,
    address,
    answer,
    ask,
    browser_of,
    filled_in,
    sign_everybody_in,
    slips_in,
    visitor,
)

pytestmark = pytest.mark.django_db

LINES = [line for line in lines() if line.page in PAGES]
HOUSE_PAGES = [name for name, rule in rules().items() if rule.who == "member" and name in PAGES]
METHODS = ("GET", "POST", "PUT", "DELETE")
REFUSED = ("door", "403", "404")


@pytest.fixture(scope="module")
def the_town(django_db_setup: None, django_db_blocker: Any) -> Iterator[Town]:
    """Built once: what a test writes is undone after each request."""
    with django_db_blocker.unblock(), town() as built:
        sign_everybody_in(built)
        yield built


@pytest.fixture(autouse=True, scope="module")
def _equal_papers_are_printed_once() -> Iterator[None]:
    """Who may have a paper is asked here of eight visitors; that equal words come out as equal
    bytes is proven in tests/papers. Laying a long one out takes a second."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pdf, "printed", cache(pdf.printed))
        yield


def test_every_page_has_a_name_of_its_own():
    names = [page.name for page in pages()]

    assert None not in names
    assert sorted(names) == sorted(set(names))


def test_every_page_stands_in_the_table_and_the_table_names_no_other():
    assert set(rules()) == set(PAGES)


@pytest.mark.parametrize("page", PAGES)
def test_a_page_wears_the_rule_that_the_table_demands(page):
    assert PAGES[page].view.access_rule == rules()[page]


@pytest.mark.parametrize("line", LINES, ids=str)
def test_the_table_agrees_with_what_roles_may_do(line):
    ability = rules()[line.page].may
    for who, role in ROLES.items():
        if ability is not None:
            may = ability in ROLE_MAY[role]
            assert (line.answers[who] != "403") is may, who
    if ability is not None:
        strangers = [line.answers[who] for who in ("nobody", "other", "left")]
        assert strangers == ["door", "404", "404"]


@pytest.mark.parametrize("line", LINES, ids=str)
def test_a_page_answers_everybody_as_written(the_town, line: Line):
    house = the_town.harbour
    path, sent = address(line.page, house), None
    if line.method in ("POST", "PUT"):
        sent = filled_in(line.page, house)
    answers = {}
    for who in VISITORS:
        with undone():
            response = ask(visitor(the_town, who), line.method, path, sent)
            answers[who] = answer(response)
            assert answers[who] != "page" or slips_in(response.content.decode()) == [], who

    assert answers == line.answers


@pytest.mark.parametrize("line", [x for x in LINES if x.method == "GET"], ids=str)
def test_neither_a_fragment_nor_a_head_gets_past(the_town, line: Line):
    path = address(line.page, the_town.harbour)
    for who, written in line.answers.items():
        if written in REFUSED:
            browser = visitor(the_town, who)

            assert answer(browser.get(path, headers={"HX-Request": "true"})) == written, who
            assert answer(browser.head(path)) == written, who


@pytest.mark.parametrize("page", [name for name in PAGES if name in rules()])
def test_a_wrong_method_is_refused_after_everything_else(the_town, page):
    path, rule = address(page, the_town.harbour), rules()[page]
    for who in VISITORS:
        browser = visitor(the_town, who)
        for method in set(METHODS) - set(rule.methods):
            assert answer(ask(browser, method, path)) == wrong_method(rule, who), (who, method)


def wrong_method(rule: Any, who: str) -> str:
    if who == "nobody" and rule.who != "anyone":
        return "door"
    if rule.who == "member" and who in ("other", "left"):
        return "404"
    if rule.may is not None and rule.may not in ROLE_MAY[ROLES[who]]:
        return "403"
    return "405"


def foreign() -> Iterator[tuple[str, str, str]]:
    """(page, method, part of the address): whatever in it could be another house's."""
    for page in HOUSE_PAGES:
        for part in PAGES[page].parts:
            if part != "house":
                for method in rules()[page].methods:
                    yield page, method, part


@pytest.mark.parametrize(("page", "method", "part"), list(foreign()))
def test_a_thing_of_another_house_does_not_exist_here(the_town, page, method, part):
    """Not even for Bo, who owns this house and whose own thing it is in the other."""
    strange = parts(PAGES[page], the_town.anchor)
    path = address(page, the_town.harbour, {part: strange[part]})
    sent = filled_in(page, the_town.harbour) if method == "POST" else None

    with undone():
        assert ask(browser_of(the_town.bo), method, path, sent).status_code == 404


@pytest.mark.parametrize("page", sorted({page for page, _method, _part in foreign()}))
def test_there_it_does_exist(the_town, page):
    """Else the refusals above would say nothing."""
    house, method = the_town.anchor, rules()[page].methods[0]
    path, sent = address(page, house), filled_in(page, house) if method == "POST" else None
    answers = set()
    for member in (house.owner, house.hire):
        with undone():
            answers.add(answer(ask(browser_of(member), method, path, sent)))

    assert answers & {"page", "pdf", "data", "goes"}


IN_THE_FORM = {
    "off_lift": {"out": lambda house: house.out},
    "shift_cards": {"drink": lambda house: house.drink},
    "module_cards": {"drink": lambda house: house.drink},
    "certificate_issue": {"hire": lambda house: house.hire.code},
}


@pytest.mark.parametrize("page", IN_THE_FORM)
def test_nor_does_it_when_a_form_names_it(the_town, page):
    sent, path = filled_in(page, the_town.harbour), address(page, the_town.harbour)
    strange = {name: value(the_town.anchor) for name, value in IN_THE_FORM[page].items()}

    with undone():
        assert browser_of(the_town.bo).send(path, sent | strange).status_code == 404


@pytest.mark.parametrize("page", [name for name, rule in rules().items() if "POST" in rule.methods])
def test_a_form_without_its_key_is_refused(the_town, page):
    line = next(x for x in LINES if (x.page, x.method) == (page, "POST"))
    who = next((w for w in VISITORS if line.answers[w] not in REFUSED), "owner")
    path, sent = address(page, the_town.harbour), filled_in(page, the_town.harbour)

    with undone():
        assert visitor(the_town, who).post(path, sent).status_code == 400
