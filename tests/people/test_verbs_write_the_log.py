"""No verb forgets its entry. A verb that is missing from the table fails."""

import inspect

import pytest

from barcourse.people import enrol, log
from barcourse.people.models import LogEntry
from tests.factories import people as make

AT = make.OPENED


def left(by, someone):
    enrol.mark_left(by=by, membership=someone, at=AT)
    return someone


def a_text(by, about):
    text = log.keep_text(about=about, text="quick hands")
    log.append(venue=by.venue, by=by, kind="house_changed", text=text)
    return text


# How each verb is called by the owner about the hire, and the kind of entry that it leaves.
VERBS = {
    "open_house": (lambda by, hire: make.open_house("Pier", owner="Ravna"), "house_opened"),
    "change_house": (
        lambda by, hire: enrol.change_house(by=by, changes={"pass_mark": 85}, at=AT),
        "house_changed",
    ),
    "set_tills": (lambda by, hire: enrol.set_tills(by=by, ringing=["well"], at=AT), "tills_set"),
    "invite": (lambda by, hire: make.invite(by), "invited"),
    "fresh_link": (
        lambda by, hire: enrol.fresh_link(by=by, invitation=make.invite(by)[0], at=AT),
        "fresh_link",
    ),
    "withdraw_invitation": (
        lambda by, hire: enrol.withdraw_invitation(by=by, invitation=make.invite(by)[0], at=AT),
        "invitation_withdrawn",
    ),
    "join": (lambda by, hire: make.hire(by, "Pia"), "joined"),
    "change_role": (
        lambda by, hire: enrol.change_role(by=by, membership=hire, role="trainer", at=AT),
        "role_changed",
    ),
    "mark_left": (left, "left"),
    "come_back": (
        lambda by, hire: enrol.come_back(by=by, membership=left(by, hire), at=AT),
        "came_back",
    ),
    "erase_person": (
        lambda by, hire: enrol.erase_person(by=by, membership=left(by, hire), at=AT),
        "person_erased",
    ),
    "erase_text": (
        lambda by, hire: enrol.erase_text(by=by, text=a_text(by, hire), at=AT),
        "text_erased",
    ),
}
READS_ONLY = {"find_invitation"}


def public_functions():
    return {
        name: function
        for name, function in inspect.getmembers(enrol, inspect.isfunction)
        if function.__module__ == enrol.__name__ and not name.startswith("_")
    }


def test_every_verb_is_in_the_table():
    assert set(public_functions()) == set(VERBS) | READS_ONLY


@pytest.mark.parametrize("name", VERBS)
def test_it_writes_an_entry_and_the_log_stays_whole(odalys, nils, name):
    call, kind = VERBS[name]
    before = LogEntry.objects.filter(kind=kind).count()

    call(odalys, nils)

    assert LogEntry.objects.filter(kind=kind).count() == before + 1
    assert log.check(odalys.venue) == []


@pytest.mark.parametrize("name", VERBS)
def test_it_takes_its_arguments_by_name_and_is_told_the_time(name):
    parameters = inspect.signature(public_functions()[name]).parameters.values()

    assert all(parameter.kind is parameter.KEYWORD_ONLY for parameter in parameters)
    assert "at" in {parameter.name for parameter in parameters}
