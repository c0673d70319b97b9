"""The house's own rule of a pour check: looked at, set, kept by version; old verdicts stand."""

import datetime as dt

import pytest

from assessments import pour_policy, record_pour_policy
from assessments.measures.pours import DEFAULT, PourPolicy
from assessments.models import HousePourPolicy
from barcourse.people import log
from barcourse.people.models import LogEntry
from barcourse.people.reasons import Refused
from barcourse.people.sealed import SealedError
from recipes.menu import menu_at
from recipes.models import RulesVersion
from tests.assessments.pages import address, fields, text
from tests.factories import hands
from tests.factories.assessments import NOW
from tests.factories.recipes import DAY

STRICT = PourPolicy(least_pours=6, least_within=1.0, most_bias=1.0)
OVER = (1.1, 1.1, 1.1, 1.1, 1.1)
"""Within an eighth of a fluid ounce each, and three millilitres over on average."""


def set_policy(owner, policy=STRICT, tolerance=0.125, at=NOW):
    record_pour_policy.set_pour_policy(by=owner, policy=policy, tolerance=tolerance, at=at)


def kinds_since(number):
    return list(LogEntry.objects.filter(number__gt=number).values_list("kind", flat=True))


def test_a_rule_is_a_version_with_its_entry(odalys, nils):
    head = log.head(odalys.venue).number

    set_policy(odalys)
    set_policy(odalys, PourPolicy(4, 0.8), at=NOW + DAY)

    versions = pour_policy.versions_of(odalys.venue)
    assert [v.number for v in versions] == [1, 2]
    assert [v.policy for v in versions] == [STRICT, PourPolicy(4, 0.8)]
    assert kinds_since(head) == ["pour_policy_set"] * 2
    assert log.check(odalys.venue) == []


@pytest.mark.parametrize(
    ("at", "policy"),
    [(-DAY, DEFAULT), (dt.timedelta(0), STRICT), (DAY, PourPolicy(4, 0.8))],
)
def test_each_moment_has_its_rule(odalys, at, policy):
    set_policy(odalys)
    set_policy(odalys, PourPolicy(4, 0.8), at=NOW + DAY)

    assert pour_policy.policy_at(pour_policy.versions_of(odalys.venue), NOW + at) == policy


def test_what_a_pour_may_be_off_by_goes_into_the_house_rules(odalys, nils):
    head = log.head(odalys.venue).number

    set_policy(odalys, DEFAULT, tolerance=0.25)

    assert menu_at(odalys.venue, NOW).rules.tolerance == 0.25
    assert not HousePourPolicy.objects.exists()
    assert kinds_since(head) == ["rules_published"]


def test_a_change_of_nothing_is_refused(odalys, nils):
    with pytest.raises(Refused, match="nothing_changed"):
        set_policy(odalys, DEFAULT)


def test_a_version_is_sealed(odalys, nils):
    set_policy(odalys)
    row = HousePourPolicy.objects.get()
    row.least_pours = 3

    with pytest.raises(SealedError):
        row.save()


def test_checks_go_by_the_rule_of_their_moment(odalys, tamsin, nils):
    before = hands.pour(tamsin, nils, OVER, at=NOW - DAY)
    set_policy(odalys, PourPolicy(5, 0.9, 1.0))

    after = hands.pour(tamsin, nils, OVER)

    assert (before.passed, after.passed) == (True, False)


def test_the_page_of_a_check_says_the_rule_of_then(visit, odalys, tamsin, nils):
    before = hands.pour(tamsin, nils, OVER, at=NOW - DAY)
    set_policy(odalys, PourPolicy(5, 0.9, 1.0))
    after = hands.pour(tamsin, nils, OVER)
    browser = visit(tamsin)

    said = text(browser.get(address(nils, "pour_check", code=before.code)))
    assert "Passed: all 5 within tolerance. They all read alike" in said
    assert "5 pours or more, 90 of 100 within tolerance." in said
    said = text(browser.get(address(nils, "pour_check", code=after.code)))
    assert "Not passed: on average they are further off than the house allows." in said
    assert "on average no more than 0.034 fl oz off." in said


def test_the_last_check_of_each_is_looked_at_before_a_rule_is_set(visit, odalys, tamsin, nils):
    hands.pour(tamsin, nils, (1.0,) * 4 + (1.3,), at=NOW - 2 * DAY)
    hands.pour(tamsin, nils, OVER, at=NOW - DAY)
    browser = visit(odalys)
    path = address(nils, "pour_policy")
    sent = fields(browser.get(path))
    assert sent["tolerance"] == ["0.125"]

    answer = browser.send(path, {**sent, "most_bias": "0.05", "look": "yes"})

    said = text(answer)
    assert "1 of 1 would be judged otherwise." in said
    assert "passed, now not passed" in said
    assert not HousePourPolicy.objects.exists()
    answer = browser.send(path, {**fields(answer), "save": "yes"})
    assert answer["Location"] == path
    assert HousePourPolicy.objects.get().most_bias_ml == pytest.approx(1.478676)
    said = text(browser.get(path))
    assert "Now: 5 pours or more, 90 of 100 within tolerance, on average no more than" in said
    assert "Odalys" in said


def test_where_nothing_would_be_judged_otherwise_it_says_so(visit, odalys, tamsin, nils):
    hands.pour(tamsin, nils)
    browser = visit(odalys)
    path = address(nils, "pour_policy")

    answer = browser.send(path, {**fields(browser.get(path)), "least_pours": "4", "look": "yes"})

    assert "None of them would be judged otherwise." in text(answer)


@pytest.mark.parametrize(
    "typed",
    [
        {"least_pours": "2"},
        {"least_pours": "many"},
        {"least_within": "101"},
        {"tolerance": "0"},
        {"most_bias": "-1"},
    ],
)
def test_a_rule_that_nobody_can_pour_by_is_not_set(visit, odalys, nils, typed):
    browser = visit(odalys)
    path = address(nils, "pour_policy")

    answer = browser.send(path, {**fields(browser.get(path)), **typed, "save": "yes"})

    assert answer.status_code == 200
    assert "wrong" in answer.content.decode()
    assert not HousePourPolicy.objects.exists()
    assert RulesVersion.objects.count() == 1


def test_setting_what_is_set_already_says_so(visit, odalys, nils):
    browser = visit(odalys)
    path = address(nils, "pour_policy")

    answer = browser.send(path, {**fields(browser.get(path)), "save": "yes"})

    assert "Nothing was changed." in text(answer)


def test_the_trainer_reads_what_passed_is(visit, odalys, tamsin, nils):
    set_policy(odalys)

    said = text(visit(tamsin).get(address(nils, "pours", hire=nils.code)))

    assert "Pour at least 6 times" in said
    assert "Passed is: 6 pours or more, 100 of 100 within tolerance" in said
