"""The list of people, inviting, and the links that are shown once."""

import re

import pytest
import zxingcpp
from django.urls import reverse
from django.utils import timezone
from PIL import Image, ImageDraw

from barcourse.people import enrol
from barcourse.people.models import Invitation, LogEntry
from tests.factories import people as make

PEOPLE = "/h/harbour-lights/people/"
INVITE, INVITED = PEOPLE + "invite/", PEOPLE + "invited/"


def text(response):
    return response.content.decode()


def links(page):
    return re.findall(r'href="(http://127\.0\.0\.1:8000/join/[\w-]+/)"', page)


def test_it_lists_who_is_here_who_has_left_and_who_is_invited(visit, odalys, marek, nils):
    enrol.mark_left(by=odalys, membership=nils, at=timezone.now())
    make.invite(odalys, "Pia", at=timezone.now())

    page = text(visit(odalys).get(PEOPLE))

    here, left = page.index("<h2>Here</h2>"), page.index("<h2>Left</h2>")
    assert here < page.index(">Marek<") < left < page.index(">Nils<")
    assert page.index("<b>Pia</b>") < here


def test_a_pasted_list_makes_a_link_and_a_code_for_each(visit, odalys):
    browser = visit(odalys)

    response = browser.send(INVITE, {"names": "Nils\nPia, trainer\n李小龍"})

    assert response.url == INVITED
    page = text(browser.get(INVITED))
    assert len(links(page)) == page.count('<svg viewBox="0 0 41 41"') == 3
    assert [i.role for i in Invitation.objects.order_by("pk")] == ["trainee", "trainer", "trainee"]


def test_the_code_reads_as_the_link_and_the_link_lets_in(visit, odalys):
    browser = visit(odalys)
    browser.send(INVITE, {"names": "Nils"})

    page = text(browser.get(INVITED))

    [link] = links(page)
    assert read_code(page) == link
    assert "Welcome, Nils" in text(visit().get(link.removeprefix("http://127.0.0.1:8000")))


def read_code(page):
    """Draws the page's inline SVG (runs of a horizontal stroke) and reads it."""
    size = int(re.search(r'<svg viewBox="0 0 (\d+) \1"', page)[1])
    path = re.search(r'<path stroke="#000" d="([^"]+)"', page)[1]
    image = Image.new("L", (size * 8, size * 8), 255)
    pen, x, y = ImageDraw.Draw(image), 0.0, 0.0
    for command, numbers in re.findall(r"([Mmh])([-\d. ]+)", path):
        values = [float(n) for n in re.findall(r"-?[\d.]+", numbers)]
        if command == "M":
            x, y = values
        elif command == "m":
            x, y = x + values[0], y + values[1]
        else:
            box = (x * 8, (y - 0.5) * 8, (x + values[0]) * 8 - 1, (y + 0.5) * 8 - 1)
            pen.rectangle(box, fill=0)
            x += values[0]
    return zxingcpp.read_barcodes(image)[0].text


def test_links_are_shown_once_and_kept_nowhere(visit, odalys):
    browser = visit(odalys)
    browser.send(INVITE, {"names": "Nils"})
    first = browser.get(INVITED)
    [link] = links(text(first))

    again = text(browser.get(INVITED))

    assert first["Cache-Control"] == "no-store"
    assert links(again) == []
    assert "Make a fresh one" in again
    assert link.split("/")[-2] not in str(dict(browser.session))


def test_links_are_shown_to_nobody_but_who_made_them(visit, odalys, marek):
    visit(odalys).send(INVITE, {"names": "Nils"})

    assert links(text(visit(marek).get(INVITED))) == []


@pytest.mark.parametrize(
    ("names", "sentences"),
    [
        ("", ["This field is required."]),
        ("\n \n", ["Type at least one name"]),
        (
            "Nils\nPia, chef\nBo\x07",
            ["Line 2, “Pia, chef”", "trainee, trainer, manager, owner", "Line 3, “Bo"],
        ),
        ("\n".join(["Nils"] * 61), ["At most 60 lines at a time. This list has 61."]),
    ],
)
def test_a_bad_list_invites_nobody_and_is_kept(visit, odalys, names, sentences):
    entries = LogEntry.objects.count()

    response = visit(odalys).send(INVITE, {"names": names})

    page = text(response)
    assert response.status_code == 200
    for sentence in sentences:
        assert sentence in page
    assert not names.strip() or "Nils" in page[page.index("<textarea") : page.index("</textarea>")]
    assert not Invitation.objects.exists()
    assert LogEntry.objects.count() == entries


def test_a_double_is_named_by_its_line_each_in_a_sentence_of_its_own(visit, odalys, nils):
    make.invite(odalys, "Ana")

    response = visit(odalys).send(INVITE, {"names": "Lena\n- Nils\nANA\nlena"})

    sentences = re.findall(r"(?:<span>|<br>)(Line [^<]*)", text(response))
    assert [sentence.partition(". ")[0] for sentence in sentences] == [
        "Line 2, “- Nils”: is here already",
        "Line 3, “ANA”: is invited already",
        "Line 4, “lena”: stands in this list twice",
    ]


def test_a_manager_invites_but_makes_no_manager_and_changes_nobody(visit, marek, nils):
    browser = visit(marek)

    assert browser.send(INVITE, {"names": "Pia, trainer"}).url == INVITED
    assert "Only an owner" in text(browser.send(INVITE, {"names": "Pia, manager"}))
    assert f'{PEOPLE}{nils.code}/"' not in text(browser.get(PEOPLE))
    assert browser.get(f"{PEOPLE}{nils.code}/").status_code == 403


def test_a_fresh_link_replaces_the_old_one(visit, odalys):
    browser = visit(odalys)
    browser.send(INVITE, {"names": "Nils"})
    [old] = links(text(browser.get(INVITED)))
    invitation = Invitation.objects.get()

    response = browser.send(f"{PEOPLE}invitations/{invitation.code}/link/")

    [fresh] = links(text(browser.get(response.url)))
    assert fresh != old
    assert visit().get(old.removeprefix("http://127.0.0.1:8000")).status_code == 410


def test_an_invitation_is_taken_back(visit, odalys):
    browser = visit(odalys)
    invitation, _ = make.invite(odalys, "Nils", at=timezone.now())

    response = browser.send(f"{PEOPLE}invitations/{invitation.code}/withdraw/", follow=True)

    assert "Taken back." in text(response)
    assert "<b>Nils</b>" not in text(response)


@pytest.mark.parametrize("verb", ["link", "withdraw"])
def test_an_invitation_that_was_used_meanwhile_says_so(visit, odalys, verb):
    invitation, token = make.invite(odalys, "Nils", at=timezone.now())
    make.invite(odalys, "Pia", at=timezone.now())
    enrol.join(token=token, sign_in="nils", password=make.PASSWORD, at=timezone.now())

    response = visit(odalys).send(f"{PEOPLE}invitations/{invitation.code}/{verb}/")

    assert response.status_code == 200
    assert "used or taken back already" in text(response)


def test_nobody_reaches_another_houses_invitation(visit, odalys, ravna):
    invitation, _ = make.invite(odalys)
    for verb in ("link", "withdraw"):
        mine = f"/h/the-anchor-room/people/invitations/{invitation.code}/{verb}/"
        theirs = f"{PEOPLE}invitations/{invitation.code}/{verb}/"
        assert visit(ravna).send(mine).status_code == 404
        assert visit(ravna).send(theirs).status_code == 404


@pytest.mark.parametrize(
    ("name", "send"),
    [
        ("people", False),
        ("just_invited", False),
        ("invite", True),
        ("fresh_link", True),
        ("withdraw_invitation", True),
    ],
)
def test_who_gets_what_answer(visit, odalys, tamsin, ravna, name, send):
    invitation, _ = make.invite(odalys, at=timezone.now())
    code = {"code": invitation.code} if name in {"fresh_link", "withdraw_invitation"} else {}
    url = reverse(name, kwargs={"house": "harbour-lights", **code})

    def ask(member):
        browser = visit(member)
        return (browser.send(url) if send else browser.get(url)).status_code

    assert [ask(None), ask(ravna), ask(tamsin)] == [302, 404, 403]
    wrong_method = visit(odalys).get(url) if send else visit(odalys).send(url)
    assert wrong_method.status_code == 405


def test_a_long_list_of_people_takes_a_handful_of_queries(
    visit, odalys, django_assert_max_num_queries
):
    for name in ("Ada", "Bo", "Cy", "Di"):
        make.hire(odalys, name)
        make.invite(odalys, f"{name} two", at=timezone.now())
    browser = visit(odalys)
    browser.get(PEOPLE)

    with django_assert_max_num_queries(6):
        browser.get(PEOPLE)
