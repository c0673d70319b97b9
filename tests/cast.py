"""A fixed cast for every test, and the one way to lift the database's guards.

The house is Harbour Lights. Odalys owns it, Marek manages, Tamsin and Pia train, Nils is a new
hire. Ravna owns another house, The Anchor Room, and is a stranger here. Everybody joined on
factories.people.OPENED through the real verbs.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client, TransactionTestCase

from barcourse.people import guards
from barcourse.people.models import Membership, Venue
from barcourse.people.roles import Role
from recipes import shipped
from tests import migrated, replay
from tests.factories import people as make


@pytest.fixture
def odalys(db: None) -> Membership:
    """Owner."""
    opened = replay.once("odalys", make.open_house, shipped.shipped_course())
    assert isinstance(opened, Membership)
    return opened


def _hired(owner: Membership, name: str, role: Role) -> Membership:
    hired = replay.once(
        f"{name} hired", lambda: make.hire(owner, name, role), shipped.shipped_course()
    )
    assert isinstance(hired, Membership)
    hired.venue = owner.venue
    return hired


@pytest.fixture
def house(odalys: Membership) -> Venue:
    return odalys.venue


@pytest.fixture
def marek(odalys: Membership) -> Membership:
    """Manager."""
    return _hired(odalys, "Marek", Role.MANAGER)


@pytest.fixture
def tamsin(odalys: Membership) -> Membership:
    """Trainer."""
    return _hired(odalys, "Tamsin", Role.TRAINER)


@pytest.fixture
def pia(odalys: Membership) -> Membership:
    """The second trainer."""
    return _hired(odalys, "Pia", Role.TRAINER)


@pytest.fixture
def nils(odalys: Membership) -> Membership:
    """Trainee."""
    return _hired(odalys, "Nils", Role.TRAINEE)


@pytest.fixture
def ravna(db: None) -> Membership:
    """Owner of another house: a stranger in Harbour Lights."""
    opened = replay.once(
        "ravna", lambda: make.open_house("The Anchor Room", owner="Ravna"), shipped.shipped_course()
    )
    assert isinstance(opened, Membership)
    return opened


class Visitor(Client):
    """A browser of its own. `send` posts a form the way a page does, with a key."""

    def send(self, path: str, data: dict[str, Any] | None = None, **kwargs: Any) -> HttpResponse:
        return self.post(path, {"form_key": str(uuid.uuid4()), **(data or {})}, **kwargs)


@pytest.fixture
def visit() -> Callable[..., Visitor]:
    """`visit(nils)` is a browser in which Nils is signed in; `visit()` one of nobody."""

    def visitor(member: Membership | None = None) -> Visitor:
        browser = Visitor()
        if member is not None:
            browser.force_login(member.person)
        return browser

    return visitor


@contextmanager
def tampering() -> Iterator[None]:
    """Inside, the database refuses nothing; afterwards its guards stand as before."""
    if connection.vendor == "postgresql":
        # Links are checked at the end of a transaction, and until then no trigger can be changed.
        connection.check_constraints()
    guards.lift(connection)
    yield
    if connection.vendor == "postgresql":
        connection.check_constraints()
    guards.install(connection)


@pytest.fixture
def guards_lifted(db: None) -> Iterator[None]:
    """A whole test without the database's guards."""
    with tampering():
        yield


@pytest.fixture(autouse=True, scope="session")
def _sealed_tables_are_emptied_all_the_same() -> Iterator[None]:
    """A test that needs real transactions (`transactional_db`, `live_server`) ends by emptying
    every table, which is what sealed tables refuse. So a SQLite database is put back as it was
    migrated. On PostgreSQL guards are lifted first; emptying ends in `post_migrate`, which sets
    them again for the next test. No program code can reach this."""
    empty_tables = TransactionTestCase._fixture_teardown
    kept = migrated.template()

    def empty(self: TransactionTestCase) -> None:
        if connection.vendor == "sqlite":
            migrated.again(connection, kept)
        else:
            guards.lift(connection)
            empty_tables(self)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(TransactionTestCase, "_fixture_teardown", empty)
        yield
