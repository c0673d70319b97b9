"""Two ways in: through the form as people take it, and with the key in hand for a test that is
about something else."""

from __future__ import annotations

from django.conf import settings
from django.test import Client
from playwright.sync_api import Page

from barcourse.people.models import Membership
from tests.browser.conftest import Visit
from tests.factories.people import PASSWORD

INSIDE = "**/h/harbour-lights/**"


def by_the_form(visit: Visit, member: Membership) -> Page:
    page = visit.page
    page.goto("/sign-in/")
    page.get_by_label("Sign-in").fill(member.person.sign_in)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(INSIDE)
    return page


def at_once(visit: Visit, member: Membership) -> Page:
    """Where the form leads, without the form."""
    browser = Client()
    browser.force_login(member.person)
    name, page = settings.SESSION_COOKIE_NAME, visit.page
    page.context.add_cookies(
        [{"name": name, "value": browser.cookies[name].value, "url": settings.BASE_URL}]
    )
    page.goto("/")
    page.wait_for_url(INSIDE)
    return page
