"""From the door to a certificate, with real clicks, in a house that starts with nobody in it.

The owner opens the house and sets its three must-knows; a trainer, a manager and a hire come in
by their links; the hire reads, drills and passes; the trainer watches and signs off; the manager
sees the standing change and issues the certificate; whoever scans it learns that it is valid, and
later that it was revoked.
"""

import pytest

from barcourse.people import log
from barcourse.people.models import Venue
from tests.browser import acting
from tests.browser.acting import go, press, sees

MUST_KNOW = ("Gin and Tonic", "Sea Breeze", "Tequila Sunrise")


@pytest.mark.parametrize("size", ["phone", "desktop"])
def test_from_the_door_to_a_certificate(open_browser, site, size):
    owner, trainer, manager, hire = (open_browser(size) for _ in range(4))

    acting.open_house(owner, "The Quiet Whistle", "Odalys")
    _set_must_knows(owner)
    links = acting.invite(owner, ["Tamsin, trainer", "Marek, manager", "Nils"])
    acting.join(trainer, links["Tamsin"], "tamsin")
    acting.join(manager, links["Marek"], "marek")
    acting.join(hire, links["Nils"], "nils")
    _standing_is(manager, "not yet")

    _learn(hire)
    for drink in MUST_KNOW:
        _sign_off(trainer, drink)

    _standing_is(manager, "ready")
    address = _certificate(manager, site)
    _ask_whether_it_holds(open_browser(size), address, "Valid.")
    go(manager, "Papers")
    press(manager, "Revoke")
    manager.page.get_by_label("reason").or_(manager.page.locator("textarea")).first.fill(
        "Issued for the wrong station."
    )
    press(manager, "Revoke")
    _ask_whether_it_holds(open_browser(size), address, "Revoked.")
    assert log.check(Venue.objects.get()) == []


def _set_must_knows(owner):
    """Everything off the menu, then three drinks on it, each a must-know."""
    go(owner, "House book")
    press(owner, "Set the menu")
    press(owner, "Clear all marks, save nothing yet")
    owner.page.get_by_role("heading", name="Highballs").click()
    for drink in MUST_KNOW:
        row = owner.page.get_by_role("group", name=drink, exact=True)
        row.get_by_role("radio", name="must-know").check()
    press(owner, "Save the menu")
    sees(owner, *MUST_KNOW)


def _standing_is(manager, standing):
    go(manager, "Who is ready")
    row = manager.page.get_by_role("row").filter(has_text="Nils")
    assert standing in row.locator(".standing").inner_text()


def _learn(hire):
    """Reads both modules, drills the cards, passes the quizzes."""
    assert hire.page.url.endswith("/shift/")
    go(hire, "Modules")
    press(hire, "Service and safety")
    press(hire, "I have read this")
    press(hire, "Take the quiz")
    acting.answer_quiz(hire)
    sees(hire, "Passed.")
    for _ in range(2):
        go(hire, "Modules")
        press(hire, "Highballs")
        press(hire, "quiz")
        acting.answer_quiz(hire)
        sees(hire, "Passed.")
    go(hire, "Modules")
    press(hire, "Highballs")
    press(hire, "All cards")
    assert acting.turn_cards(hire) == len(MUST_KNOW)


def _sign_off(trainer, drink):
    acting.watch(trainer, "Nils", drink)
    sees(trainer, "Passed.")
    press(trainer, "Sign off")
    sees(trainer, "Signed off")


def _certificate(manager, site):
    """Issue, download, and read the address out of the QR code on the paper."""
    go(manager, "Papers")
    press(manager, "Issue a certificate to Nils: Well")
    with manager.page.expect_download() as download:
        manager.page.get_by_role("link", name="Certificate of Nils, Well").click()
    address = acting.qr_of(download.value.path().read_bytes())
    assert address.startswith(f"{site}/paper/")
    return address


def _ask_whether_it_holds(stranger, address, answer):
    stranger.page.goto(address)
    stranger.check()
    sees(stranger, answer, "Nils", "Well")
