"""What the database itself refuses, whoever writes to it."""

import datetime as dt

import pytest
from django.db import IntegrityError, transaction

from barcourse.people import log
from barcourse.people.models import (
    Invitation,
    Membership,
    Person,
    PersonalText,
    SentForm,
    Station,
    Venue,
)
from tests.factories import people as make


def refused(write):
    with pytest.raises(IntegrityError), transaction.atomic():
        write()
    return True


def test_nobody_leaves_before_they_start(nils):
    day_before = nils.start_day - dt.timedelta(days=1)

    assert refused(lambda: Membership.objects.filter(pk=nils.pk).update(left_day=day_before))
    assert Membership.objects.filter(pk=nils.pk).update(left_day=nils.start_day) == 1


def test_a_person_is_one_membership_in_a_house(nils):
    def second():
        Membership.objects.create(
            venue=nils.venue, person=nils.person, role="trainer", start_day=nils.start_day
        )

    assert refused(second)


def test_a_role_is_one_of_four(nils):
    assert refused(lambda: Membership.objects.filter(pk=nils.pk).update(role="boss"))


def test_a_used_invitation_says_when_and_by_whom(odalys, nils):
    invitation, _ = make.invite(odalys)
    same = Invitation.objects.filter(pk=invitation.pk)

    assert refused(lambda: same.update(used_at=make.OPENED))
    assert refused(lambda: same.update(used_by=nils))
    assert same.update(used_at=make.OPENED, used_by=nils) == 1


def test_an_invitation_is_not_used_and_withdrawn_at_once(odalys, nils):
    invitation, _ = make.invite(odalys)
    fields = {"used_at": make.OPENED, "used_by": nils, "withdrawn_at": make.OPENED}

    assert refused(lambda: Invitation.objects.filter(pk=invitation.pk).update(**fields))


@pytest.mark.parametrize(
    "fields",
    [
        {"erased_at": make.OPENED},
        {"erased_at": make.OPENED, "text": ""},
        {"text": ""},
        {"salt": ""},
        {"text": "", "salt": ""},
    ],
)
def test_words_are_erased_wholly_or_not_at_all(nils, fields):
    text = log.keep_text(about=nils, text="pours with a heavy hand")
    same = PersonalText.objects.filter(pk=text.pk)

    assert refused(lambda: same.update(**fields))
    assert same.update(text="", salt="", erased_at=make.OPENED) == 1


def test_an_erased_person_has_no_name_and_no_way_in(nils):
    same = Person.objects.filter(pk=nils.person.pk)

    assert refused(lambda: same.update(erased_at=make.OPENED))
    assert refused(lambda: same.update(erased_at=make.OPENED, name=""))
    assert same.update(erased_at=make.OPENED, name="", is_active=False) == 1


@pytest.mark.parametrize(
    "fields",
    [{"second_right": 71}, {"least_right": 101}, {"most_wrong": 101}, {"business_hour": 13}],
)
def test_the_ready_policy_makes_sense(house, fields):
    assert refused(lambda: Venue.objects.filter(pk=house.pk).update(**fields))


def test_names_that_are_taken(house, ravna, nils):
    well = {"venue": house, "slug": "well", "name": "Second well"}

    assert refused(lambda: Station.objects.create(**well))
    assert Station.objects.filter(venue=ravna.venue, slug="well").count() == 1
    assert refused(lambda: Venue.objects.filter(pk=house.pk).update(slug=ravna.venue.slug))
    assert refused(lambda: Person.objects.filter(pk=nils.person.pk).update(sign_in="odalys"))


def test_a_form_key_is_used_once(db):
    sent = {"device": "d", "body_digest": "b", "at": make.OPENED}
    first = SentForm.objects.create(key="6f4c1b9e-9d0a-4c39-8f0e-9d6a5f6b7c8d", **sent)

    assert refused(lambda: SentForm.objects.create(key=first.key, **sent))
