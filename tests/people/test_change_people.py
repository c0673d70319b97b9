"""Roles, leaving, coming back, being forgotten."""

import datetime as dt

import pytest

from barcourse.people import enrol, log
from barcourse.people.models import LogEntry, Membership, Person, PersonalText
from barcourse.people.reasons import Refused
from barcourse.people.roles import Role
from tests.factories import people as make

DAY = dt.timedelta(days=1)
NEXT_DAY = make.OPENED + DAY


def refusal(verb, **kwargs):
    with pytest.raises(Refused) as refused:
        verb(**{"at": NEXT_DAY, **kwargs})
    return refused.value.reason.code


def left(by, membership, **kwargs):
    enrol.mark_left(by=by, membership=membership, at=NEXT_DAY, **kwargs)
    membership.refresh_from_db()
    return membership


def test_a_role_changes_and_the_log_says_what_it_is_now(odalys, nils, house):
    enrol.change_role(by=odalys, membership=nils, role=Role.TRAINER, at=NEXT_DAY)

    nils.refresh_from_db()
    entry = LogEntry.objects.filter(venue=house).latest("number")
    assert nils.role == "trainer"
    assert (entry.kind, entry.by_code, entry.subject_code, entry.facts) == (
        "role_changed",
        odalys.code,
        nils.code,
        {"role": "trainer", "left": ""},
    )


def test_the_same_role_is_no_change(odalys, nils):
    same = {"by": odalys, "membership": nils, "role": "trainee"}

    assert refusal(enrol.change_role, **same) == "same_role"


def test_a_house_keeps_an_owner(odalys):
    me = {"by": odalys, "membership": odalys}

    assert refusal(enrol.change_role, role="manager", **me) == "last_owner_demoted"
    assert refusal(enrol.mark_left, **me) == "last_owner_leaves"


def test_one_of_two_owners_may_go(odalys, marek):
    enrol.change_role(by=odalys, membership=marek, role=Role.OWNER, at=NEXT_DAY)

    assert left(odalys, odalys).left_day == dt.date(2026, 3, 6)
    assert refusal(enrol.mark_left, by=marek, membership=marek) == "last_owner_leaves"


def test_an_owner_who_left_does_not_count(odalys, marek):
    enrol.change_role(by=odalys, membership=marek, role=Role.OWNER, at=NEXT_DAY)
    left(odalys, marek)

    me = {"by": odalys, "membership": odalys}
    assert refusal(enrol.change_role, role="manager", **me) == "last_owner_demoted"


@pytest.mark.parametrize(
    ("day", "here"),
    [(dt.date(2026, 3, 5), True), (dt.date(2026, 3, 6), False), (dt.date(2026, 3, 7), False)],
)
def test_on_the_left_day_one_is_gone(odalys, nils, day, here):
    left(odalys, nils)

    assert nils.is_here(day) is here
    assert Membership.objects.here(day).of(nils.person).exists() is here
    assert Membership.objects.gone(day).of(nils.person).exists() is not here


@pytest.mark.parametrize(
    ("day", "code"),
    [
        (dt.date(2026, 3, 4), "left_before_start"),
        (dt.date(2026, 3, 7), "left_day_ahead"),
    ],
)
def test_a_left_day_lies_between_the_first_day_and_today(odalys, nils, day, code):
    assert refusal(enrol.mark_left, by=odalys, membership=nils, day=day) == code
    assert left(odalys, nils, day=dt.date(2026, 3, 5)).left_day == dt.date(2026, 3, 5)


def test_nobody_leaves_twice_or_changes_role_afterwards(odalys, nils):
    left(odalys, nils)
    them = {"by": odalys, "membership": nils}

    assert refusal(enrol.mark_left, **them) == "has_left_already"
    assert refusal(enrol.change_role, role="trainer", **them) == "has_left_already"


def test_who_left_comes_back_as_the_same_membership(odalys, nils):
    left(odalys, nils)

    enrol.come_back(by=odalys, membership=nils, at=NEXT_DAY)

    nils.refresh_from_db()
    assert (nils.left_day, nils.role) == (None, "trainee")
    assert refusal(enrol.come_back, by=odalys, membership=nils) == "has_not_left"


@pytest.mark.parametrize(
    ("verb", "more"),
    [
        (enrol.change_role, {"role": "trainer"}),
        (enrol.mark_left, {}),
        (enrol.come_back, {}),
        (enrol.erase_person, {}),
    ],
)
def test_nobody_changes_another_houses_people(ravna, nils, verb, more):
    assert refusal(verb, by=ravna, membership=nils, **more) == "other_house"


def test_forgetting_takes_name_sign_in_and_words_and_leaves_the_log_whole(odalys, nils, house):
    text = written_about(nils, by=odalys)
    head = log.head(house)
    left(odalys, nils)

    enrol.erase_person(by=odalys, membership=nils, at=NEXT_DAY)

    person = Person.objects.get(pk=nils.person_id)
    text.refresh_from_db()
    assert (person.name, person.is_active, person.has_usable_password()) == ("", False, False)
    assert "nils" not in person.sign_in
    assert (text.text, text.salt) == ("", "")
    assert not house.invitations.filter(name="Nils").exists()
    assert log.check(house, head) == []


def written_about(someone, *, by):
    text = log.keep_text(about=someone, text="drops the tin")
    log.append(venue=by.venue, by=by, kind="house_changed", text=text, at=make.OPENED)
    return text


def test_nobody_is_forgotten_while_they_work_here_or_twice(odalys, nils):
    them = {"by": odalys, "membership": nils}
    assert refusal(enrol.erase_person, **them) == "left_first"
    left(odalys, nils)
    enrol.erase_person(at=NEXT_DAY, **them)

    assert refusal(enrol.erase_person, **them) == "erased"
    assert refusal(enrol.come_back, **them) == "erased"


def test_who_also_works_elsewhere_is_forgotten_here_alone(odalys, ravna):
    here = make.join_as(odalys, ravna.person)
    left(odalys, here)

    enrol.erase_person(by=odalys, membership=here, at=NEXT_DAY)

    here.refresh_from_db()
    ravna.person.refresh_from_db()
    assert here.name == "someone erased"
    assert (ravna.person.name, ravna.person.is_active) == ("Ravna", True)


def test_words_are_erased_once_and_by_their_own_house(odalys, ravna, nils, house):
    text = written_about(nils, by=odalys)
    assert refusal(enrol.erase_text, by=ravna, text=text) == "other_house"

    enrol.erase_text(by=odalys, text=text, at=NEXT_DAY)

    assert refusal(enrol.erase_text, by=odalys, text=text) == "text_erased_already"
    assert PersonalText.objects.get(pk=text.pk).erased_at == NEXT_DAY
    assert log.check(house) == []
