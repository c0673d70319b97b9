"""Kept pages: quick when opened again, never another person's; whatever changes shows at once."""

from __future__ import annotations

import datetime as dt
import re

import pytest
from django.db import connection
from django.template import Context, Template
from django.test.utils import CaptureQueriesContext

from assessments import record_set
from assessments.kept_pages import kept_page
from barcourse.people.models import Membership
from recipes import kept
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import NOW

KEY = re.compile(r'name="form_key" value="([^"]+)"')
TOKEN = re.compile(r'name="csrfmiddlewaretoken" value="([^"]+)"')
MOST_QUERIES = 6
"""Session, person, membership, the newest entry of the log, whether a rush goes on, and
what is asked of this page."""


@pytest.fixture(autouse=True)
def _outside(db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """A test runs in a transaction of its own; only those within it count."""
    around = len(connection.savepoint_ids)
    monkeypatch.setattr(kept, "in_doubt", lambda: len(connection.savepoint_ids) > around)


@pytest.fixture
def answered(tamsin: Membership, nils: Membership) -> Membership:
    """Somebody who has read, taken a quiz badly, begun another, and was offered a try-out."""
    make.read(nils)
    make.take_quiz(nils, answering=make.wrong)
    record_set.offer_try_out(by=tamsin, hire=nils, at=NOW)
    return nils


def pages(tamsin: Membership, nils: Membership) -> list[tuple[Membership, str]]:
    done = nils.quizzes.get()
    going = make.start_quiz(nils)
    return [
        *(
            (nils, address(nils, name, **parts))
            for name, parts in [
                ("next_shift", {}), ("shift_when", {}), ("shift_cards", {}), ("modules", {}),
                ("quiz", {"code": going.code}), ("quiz_result", {"code": done.code}),
                ("hook", {"drink": "madras"}),
            ]
        ),
        *(
            (tamsin, address(tamsin, name, **parts))
            for name, parts in [
                ("quiz_sheets", {}), ("item_report", {}), ("mix_ups", {}),
                ("mix_up", {"drink": "madras", "other": "cuba-libre"}),
                ("try_out", {"code": nils.code}),
            ]
        ),
    ]  # fmt: skip


def test_every_page_of_learning_opened_again_asks_the_database_six_times_at_most(
    visit, tamsin, answered
):
    for who, path in pages(tamsin, answered):
        browser = visit(who)
        first = browser.get(path)
        with CaptureQueriesContext(connection) as asked:
            again = browser.get(path)

        assert again.status_code == 200, path
        assert text(again) == text(first), path
        assert len(asked) <= MOST_QUERIES, [path, *(q["sql"] for q in asked)]


def test_each_form_of_each_showing_has_a_key_of_its_own_and_the_visitors_own_token(
    visit, tamsin, answered
):
    for who, path in pages(tamsin, answered):
        shown = [visit(who).get(path).content.decode() for _ in range(2)]
        keys = [key for page in shown for key in KEY.findall(page)]

        assert len(keys) == len(set(keys)) == sum(page.count('method="post"') for page in shown)
        assert all(re.fullmatch(r"[0-9a-f-]{36}", key) for key in keys), path
        assert all(re.fullmatch(r"[A-Za-z0-9]{64}", t) for t in TOKEN.findall(shown[0])), path


def test_a_kept_form_is_taken_like_any_other(visit, nils):
    browser, path = visit(nils), address(nils, "shift_when")
    day = nils.venue.business_day(NOW) + dt.timedelta(days=2)
    browser.get(path)
    sent = browser.send(path, {"day": str(day), "hour": "18:00", "minutes": "7"})

    assert sent.status_code == 302
    assert 'value="7"' in browser.get(path).content.decode()


def test_one_persons_page_is_never_shown_to_another(visit, tamsin, nils, answered):
    own = visit(tamsin).get(address(tamsin, "hook", drink="madras"))
    assert "Show it to the whole house" in text(own)
    assert "Show it to the whole house" not in text(
        visit(nils).get(address(nils, "hook", drink="madras"))
    )
    code = nils.quizzes.get().code
    path = address(nils, "quiz_result", code=code)
    mine, read = (text(visit(who).get(path)) for who in (nils, tamsin, nils, tamsin)[2:])
    assert "Next shift" in mine
    assert "Record of Nils" not in mine
    assert "Record of Nils" in read


def test_a_mix_up_shows_as_soon_as_it_was_answered(visit, tamsin, nils):
    browser, path = visit(tamsin), address(tamsin, "mix_ups")
    assert "Nobody has mixed up" in text(browser.get(path))

    make.take_quiz(nils, answering=make.wrong)
    assert "Nobody has mixed up" not in text(browser.get(path))


def test_a_report_shows_as_soon_as_a_quiz_is_finished(visit, tamsin, nils):
    browser, path = visit(tamsin), address(tamsin, "item_report")
    assert "Nobody has finished a quiz yet" in text(browser.get(path))

    make.take_quiz(nils, answering=make.right)
    assert "How far a score can be trusted" in text(browser.get(path))


def test_nothing_is_kept_while_it_may_yet_be_taken_back(monkeypatch, tamsin):
    monkeypatch.setattr(kept, "in_doubt", lambda: True)
    made = iter("ab")

    found = [kept_page(tamsin.venue, "page", make=lambda: next(made)) for _ in range(2)]
    assert [page.shown for page in found] == ["a", "b"]
    assert [page.html for page in found] == [None, None]


def test_markup_is_rendered_once_where_it_may_be_kept_and_each_time_where_not():
    template = Template('{% load keep %}{% keep html "a" %}{{ said }}{% endkeep %}')
    html: dict[str, str] = {}

    def shown(said: str, html: dict[str, str] | None) -> str:
        return template.render(Context({"said": said, "html": html}))

    assert [shown("<one>", html), shown("two", html)] == ["&lt;one&gt;"] * 2
    assert [shown("one", None), shown("two", None)] == ["one", "two"]
