"""Who may do what: the whole table, written out."""

from itertools import pairwise

import pytest

from barcourse.people.roles import MAY_INVITE_AS, ROLE_MAY, May, Role, role_may

# fmt: off
TABLE = {
    #                    trainee trainer manager owner
    May.LEARN:          (True,  True,  True,  True),
    May.SEE_BOOK:       (False, True,  True,  True),
    May.EDIT_BOOK:      (False, True,  True,  True),
    May.WATCH:          (False, True,  True,  True),
    May.VOID:           (False, True,  True,  True),
    May.SEE_RECORDS:    (False, True,  True,  True),
    May.SEE_READY:      (False, True,  True,  True),
    May.SET_READY:      (False, False, True,  True),
    May.TAKE_IN_SALES:  (False, False, True,  True),
    May.SEE_PAPERS:     (False, False, True,  True),
    May.ISSUE_PAPERS:   (False, False, True,  True),
    May.SEE_LOG:        (False, False, True,  True),
    May.INVITE:         (False, False, True,  True),
    May.CHANGE_PEOPLE:  (False, False, False, True),
    May.SET_HOUSE:      (False, False, False, True),
}
# fmt: on
LADDER = (Role.TRAINEE, Role.TRAINER, Role.MANAGER, Role.OWNER)


@pytest.mark.parametrize("ability", May)
def test_each_role_may_exactly_this(ability):
    assert tuple(role_may(role, ability) for role in LADDER) == TABLE[ability]


def test_every_role_is_on_the_ladder():
    assert set(LADDER) == set(Role) == set(ROLE_MAY) == set(MAY_INVITE_AS)


def test_a_higher_role_may_all_that_a_lower_one_may():
    for lower, higher in pairwise(LADDER):
        assert ROLE_MAY[lower] < ROLE_MAY[higher]


@pytest.mark.parametrize("role", Role)
def test_only_who_may_invite_has_roles_to_give_and_none_above_their_own(role):
    given = MAY_INVITE_AS[role]

    assert bool(given) == role_may(role, May.INVITE)
    assert all(LADDER.index(role) >= LADDER.index(other) for other in given)


def test_a_manager_makes_no_manager():
    assert MAY_INVITE_AS[Role.MANAGER] == (Role.TRAINEE, Role.TRAINER)
