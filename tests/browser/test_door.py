"""The way in, in a real browser: with scripts and without, at every size."""

import pytest

from tests.factories.people import PASSWORD


@pytest.mark.parametrize("size", ["phone", "desktop", "narrowest"])
def test_the_way_in_is_readable_for_everyone(open_browser, odalys, size):
    visit = open_browser(size)
    visit.page.goto("/")

    assert visit.page.url.endswith("/sign-in/")
    visit.check()


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without"])
def test_a_wrong_password_says_so_and_the_right_one_lets_in(open_browser, odalys, scripts):
    visit = open_browser("phone", java_script_enabled=scripts)
    page = visit.page

    page.goto("/sign-in/")
    page.get_by_label("Sign-in").fill("odalys")
    page.get_by_label("Password").fill("not-this-one")
    page.get_by_role("button", name="Sign in").click()
    assert page.url.endswith("/sign-in/")
    assert page.get_by_label("Sign-in").input_value() == "odalys"

    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/h/harbour-lights/**")


def test_a_first_visitor_opens_the_house(open_browser):
    visit = open_browser("phone")
    visit.page.goto("/")

    assert visit.page.url.endswith("/open/")
    visit.check()


def test_the_browser_itself_refuses_what_is_inline(open_browser, odalys):
    visit = open_browser("desktop")
    visit.page.goto("/sign-in/")

    ran = visit.page.evaluate(
        """() => {
            const script = document.createElement("script");
            script.textContent = "window.ranInline = true";
            document.body.append(script);
            return window.ranInline === true;
        }"""
    )

    assert ran is False
    [complaint] = visit.complaints
    assert "Content Security Policy" in complaint
    visit.complaints.clear()
