"""An invitation's life: made, used once, run out, taken back, made fresh."""

import datetime as dt

import pytest

from barcourse.people import enrol
from barcourse.people.codes import hash_of_token
from barcourse.people.models import Invitation, Membership, Person
from barcourse.people.reasons import Refused
from barcourse.people.roles import Role
from tests.factories import people as make

WEEK = dt.timedelta(days=7)
SECOND = dt.timedelta(seconds=1)


def join(token, at=make.OPENED, sign_in="nils"):
    return enrol.join(token=token, sign_in=sign_in, password=make.PASSWORD, at=at)


def refusal(call):
    with pytest.raises(Refused) as refused:
        call()
    return refused.value.reason.code


def test_whoever_has_the_link_joins_in_the_role_and_under_the_name_of_it(odalys, house):
    invitation, token = make.invite(odalys, "Nils Holm", Role.TRAINER)

    nils = join(token)

    assert (nils.venue, nils.role, nils.name) == (house, "trainer", "Nils Holm")
    invitation.refresh_from_db()
    assert (invitation.used_by, invitation.used_at) == (nils, make.OPENED)


def test_the_token_is_stored_nowhere(odalys):
    invitation, token = make.invite(odalys)

    stored = Invitation.objects.filter(pk=invitation.pk).values().get()

    assert stored["token_hash"] == hash_of_token(token)
    assert all(token not in str(value) for value in stored.values())
    assert len(token) == 22  # 128 bits in base64


def test_two_tokens_are_never_the_same(odalys):
    made = enrol.invite(by=odalys, names=[("Nils", "trainee")] * 60, at=make.OPENED)

    assert len({token for _, token in made}) == 60


def test_a_link_works_once(odalys):
    _, token = make.invite(odalys)
    join(token)

    assert refusal(lambda: join(token, sign_in="other")) == "invitation_used"
    assert not Person.objects.filter(sign_in="other").exists()


@pytest.mark.parametrize(
    ("after", "outcome"), [(WEEK - SECOND, None), (WEEK, "invitation_expired")]
)
def test_a_link_holds_seven_days(odalys, after, outcome):
    _, token = make.invite(odalys)

    if outcome is None:
        assert join(token, at=make.OPENED + after).role == "trainee"
    else:
        assert refusal(lambda: join(token, at=make.OPENED + after)) == outcome


def test_a_withdrawn_link_says_so(odalys):
    invitation, token = make.invite(odalys)
    enrol.withdraw_invitation(by=odalys, invitation=invitation, at=make.OPENED)

    assert refusal(lambda: join(token)) == "invitation_withdrawn"
    assert Invitation.objects.get().name == ""


def test_a_made_up_link_says_so(odalys):
    assert refusal(lambda: join("AAAAAAAAAAAAAAAAAAAAAA")) == "invitation_unknown"


def test_the_link_of_someone_who_left_says_so(odalys):
    _, token = make.invite(odalys)
    nils = join(token)
    enrol.mark_left(by=odalys, membership=nils, at=make.OPENED)

    assert refusal(lambda: join(token)) == "invitation_of_someone_gone"


def test_a_fresh_link_kills_the_old_one_and_holds_a_week_from_now(odalys):
    invitation, old = make.invite(odalys)
    later = make.OPENED + WEEK + SECOND

    fresh = enrol.fresh_link(by=odalys, invitation=invitation, at=later)

    assert refusal(lambda: join(old, at=later)) == "invitation_unknown"
    assert join(fresh, at=later + WEEK - SECOND).role == "trainee"


@pytest.mark.parametrize("end", ["used", "withdrawn"])
def test_what_has_ended_gets_no_fresh_link_and_is_not_taken_back(odalys, end):
    invitation, token = make.invite(odalys)
    if end == "used":
        join(token)
    else:
        enrol.withdraw_invitation(by=odalys, invitation=invitation, at=make.OPENED)

    for verb in (enrol.fresh_link, enrol.withdraw_invitation):
        ended = {"by": odalys, "invitation": invitation, "at": make.OPENED}
        assert refusal(lambda verb=verb, ended=ended: verb(**ended)) == "invitation_not_open"


def test_nobody_touches_another_houses_invitations(odalys, ravna):
    invitation, _ = make.invite(odalys)

    for verb in (enrol.fresh_link, enrol.withdraw_invitation):
        theirs = {"by": ravna, "invitation": invitation, "at": make.OPENED}
        assert refusal(lambda verb=verb, theirs=theirs: verb(**theirs)) == "other_house"


@pytest.mark.parametrize("role", [Role.MANAGER, Role.OWNER])
def test_a_manager_invites_hires_and_trainers_only(marek, role):
    assert make.invite(marek, "Pia", Role.TRAINER)[0].invited_by == marek
    assert refusal(lambda: make.invite(marek, "Pia", role)) == "role_not_yours_to_give"


def test_a_manager_makes_no_fresh_link_for_a_manager(odalys, marek):
    invitation, _ = make.invite(odalys, "Pia", Role.MANAGER)
    fresh = {"by": marek, "invitation": invitation, "at": make.OPENED}

    assert refusal(lambda: enrol.fresh_link(**fresh)) == "role_not_yours_to_give"


def test_of_a_list_with_one_bad_name_nobody_is_invited(odalys):
    names = [("Nils", "trainee"), ("", "trainee")]

    assert refusal(lambda: enrol.invite(by=odalys, names=names, at=make.OPENED)) == "name_missing"
    assert not Invitation.objects.exists()


def test_a_weak_password_leaves_the_link_alive(odalys):
    _, token = make.invite(odalys)

    weak = {"token": token, "sign_in": "nils", "password": "12345678", "at": make.OPENED}
    assert refusal(lambda: enrol.join(**weak)) == "password_weak"

    assert join(token).role == "trainee"


def test_somebody_with_a_sign_in_joins_one_more_house(odalys, ravna):
    joined = make.join_as(odalys, ravna.person, Role.TRAINER)

    assert joined.person == ravna.person
    assert Membership.objects.of(ravna.person).count() == 2


def test_somebody_who_is_here_already_does_not_join_twice(odalys, nils):
    assert refusal(lambda: make.join_as(odalys, nils.person)) == "already_here"


def test_somebody_who_left_comes_back_by_a_link_in_its_role(odalys, nils):
    enrol.mark_left(by=odalys, membership=nils, at=make.OPENED)

    back = make.join_as(odalys, nils.person, Role.TRAINER)

    assert (back.pk, back.role, back.left_day) == (nils.pk, "trainer", None)
