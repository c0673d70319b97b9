"""The pages about papers: what each promises to whom."""

import datetime as dt
import io

import pypdf
import pytest
import time_machine

from barcourse.papers.issue import issue_certificate, revoke
from barcourse.papers.models import Certificate, Revocation
from barcourse.people import enrol
from tests.papers import ready, sheets
from tests.papers.sheets import words

NOW = ready.ISSUED + dt.timedelta(hours=1)
HOUSE = "/h/harbour-lights"
PAPERS = f"{HOUSE}/papers/"
ISSUE = f"{HOUSE}/papers/certificate/"
MINE = f"{HOUSE}/my-papers/"
HANDOUT = f"{HOUSE}/papers/handout/rocks.pdf"


@pytest.fixture(autouse=True)
def _an_hour_after_it_was_issued():
    with time_machine.travel(NOW, tick=False):
        yield


def pdf_of(certificate):
    return f"{HOUSE}/papers/certificate/{certificate.code}.pdf"


def revoke_page(certificate):
    return f"{HOUSE}/papers/certificate/{certificate.code}/revoke/"


def check_page(certificate):
    return f"/paper/{certificate.code}/"


# Who may open what.

ADDRESSES = {
    "papers": ("get", lambda c: PAPERS),
    "issue": ("post", lambda c: ISSUE),
    "revoke, the form": ("get", revoke_page),
    "revoke": ("post", revoke_page),
    "certificate": ("get", pdf_of),
    "handout": ("get", lambda c: HANDOUT),
    "my papers": ("get", lambda c: MINE),
}
every_address = pytest.mark.parametrize(("method", "address"), ADDRESSES.values(), ids=ADDRESSES)


def ask(browser, method, path):
    return browser.send(path) if method == "post" else browser.get(path)


@every_address
def test_nobody_is_asked_to_sign_in(method, address, certificate, visit):
    answer = ask(visit(), method, address(certificate))

    assert answer.status_code == 302
    assert answer["Location"].startswith("/sign-in/")


@every_address
def test_to_a_stranger_it_does_not_exist(method, address, certificate, visit, ravna):
    assert ask(visit(ravna), method, address(certificate)).status_code == 404


TO_A_TRAINER = {
    "papers": 403,
    "issue": 403,
    "revoke, the form": 403,
    "revoke": 403,
    "certificate": 404,
    "handout": 200,
    "my papers": 200,
}


@pytest.mark.parametrize(("name", "status"), TO_A_TRAINER.items())
def test_papers_of_others_are_a_manager_s(name, status, certificate, visit, tamsin):
    """Trainers watch and sign off; too little a role is told so."""
    method, address = ADDRESSES[name]

    assert ask(visit(tamsin), method, address(certificate)).status_code == status


WRONG = {
    "papers": ("post", lambda c: PAPERS),
    "issue": ("get", lambda c: ISSUE),
    "certificate": ("post", pdf_of),
    "handout": ("post", lambda c: HANDOUT),
    "my papers": ("post", lambda c: MINE),
    "check": ("post", check_page),
}


@pytest.mark.parametrize(("method", "address"), WRONG.values(), ids=WRONG)
def test_another_method_is_refused(method, address, certificate, visit, marek):
    assert ask(visit(marek), method, address(certificate)).status_code == 405


# Papers, and issuing.


def test_papers_list_who_is_ready_with_a_button(ready_nils, pia, visit, marek):
    page = words(visit(marek).get(PAPERS))

    assert "Issue a certificate to Nils: Beer point" in page
    assert f'name="hire" value="{ready_nils.code}"' in page
    assert "None issued yet." in page
    assert page.count('<input type="hidden" name="station"') == 1


def test_papers_say_when_nobody_is_ready(nils, visit, marek):
    page = words(visit(marek).get(PAPERS))

    assert "Nobody in training is ready for a station right now." in page
    assert 'name="hire"' not in page


def test_papers_list_what_was_issued(certificate, visit, marek):
    page = words(visit(marek).get(PAPERS))

    assert "1 certificate holds" in page
    assert pdf_of(certificate) in page
    assert revoke_page(certificate) in page
    assert "<b>valid</b>" in page
    assert "until Sept. 7, 2026" in page
    assert "Has a certificate until Sept. 7, 2026." in page
    assert "Issue a new one" in page


def test_the_list_asks_as_often_for_many_as_for_one(
    certificate, odalys, marek, tamsin, visit, django_assert_max_num_queries
):
    for _time in range(4):
        issue_certificate(by=marek, hire=certificate.hire, station=certificate.station, at=NOW)
    with django_assert_max_num_queries(60):
        page = words(visit(marek).get(PAPERS))

    assert "5 certificates hold" in page


def test_issuing_makes_a_certificate_and_says_so(ready_nils, visit, marek):
    browser = visit(marek)
    answer = browser.send(ISSUE, {"hire": ready_nils.code, "station": "beer-point"})

    assert (answer.status_code, answer["Location"]) == (302, PAPERS)
    certificate = Certificate.objects.get()
    assert (certificate.hire, certificate.issued_by) == (ready_nils, marek)
    assert certificate.issued_at == NOW
    assert "The certificate of Nils is issued." in words(browser.get(PAPERS))


def test_issuing_twice_with_one_form_issues_once(ready_nils, visit, marek):
    browser, form = visit(marek), {"hire": ready_nils.code, "station": "beer-point"}
    key = {"form_key": "0b0f0f4e-5b9e-4f3a-9a55-1f5c7f6f2c11"}
    first = browser.post(ISSUE, {**form, **key})
    second = browser.post(ISSUE, {**form, **key})

    assert first["Location"] == second["Location"] == PAPERS
    assert Certificate.objects.count() == 1


def test_issuing_to_somebody_who_is_not_ready_says_what_is_missing(nils, visit, marek):
    answer = visit(marek).send(ISSUE, {"hire": nils.code, "station": "beer-point"})
    page = words(answer)

    assert answer.status_code == 200
    assert "Not ready for that station yet, so there is no certificate." in page
    assert "Draught lager isn&#x27;t signed off." in page
    assert not Certificate.objects.exists()


def test_issuing_to_oneself_is_refused(visit, marek, tamsin):
    ready.make_ready(marek, tamsin)
    answer = visit(marek).send(ISSUE, {"hire": marek.code, "station": "beer-point"})

    assert answer.status_code == 200
    assert "Nobody issues a certificate to themselves." in words(answer)
    assert not Certificate.objects.exists()


BAD = {
    "nothing": {},
    "nobody of this house": {"hire": "zzzz", "station": "beer-point"},
    "no such station": {"station": "roof"},
    "markup": {"hire": "<script>", "station": "beer-point"},
}


@pytest.mark.parametrize("form", BAD.values(), ids=BAD)
def test_issuing_on_bad_input_finds_nothing(form, ready_nils, visit, marek):
    hire = {"hire": ready_nils.code} if form == BAD["no such station"] else {}
    answer = visit(marek).send(ISSUE, {**hire, **form})

    assert answer.status_code == 404
    assert not Certificate.objects.exists()


def test_somebody_of_another_house_is_not_found(ravna, visit, marek):
    answer = visit(marek).send(ISSUE, {"hire": ravna.code, "station": "beer-point"})

    assert answer.status_code == 404


# Downloading.


def test_the_hire_downloads_their_own(certificate, visit, nils):
    answer = visit(nils).get(pdf_of(certificate))

    assert answer.status_code == 200
    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"] == (
        'attachment; filename="certificate-nils-beer-point.pdf"'
    )
    assert answer["Cache-Control"] == "private, no-store"
    text = sheets.text_of(answer.content)
    assert "Nils" in text
    assert "Ready · Beer point" in text
    assert "Draught lager rev. 1" in text
    assert f"http://127.0.0.1:8000/paper/{certificate.code}/" in text
    assert certificate.log_hash in text
    assert sheets.codes_on(answer.content) == [f"http://127.0.0.1:8000/paper/{certificate.code}/"]


def test_a_manager_downloads_anybody_s(certificate, visit, odalys):
    assert visit(odalys).get(pdf_of(certificate)).status_code == 200


def test_another_trainee_or_trainer_finds_nothing(certificate, visit, odalys, tamsin):
    other = ready.somebody(odalys, "Ines")

    assert visit(other).get(pdf_of(certificate)).status_code == 404
    assert visit(tamsin).get(pdf_of(certificate)).status_code == 404


def test_whoever_left_finds_nothing_and_the_manager_still_does(certificate, visit, odalys, nils):
    enrol.mark_left(by=odalys, membership=nils, at=NOW)

    assert visit(nils).get(pdf_of(certificate)).status_code == 404
    assert visit(odalys).get(pdf_of(certificate)).status_code == 200


def test_the_same_certificate_is_the_same_file(certificate, visit, nils, odalys):
    first = visit(nils).get(pdf_of(certificate)).content
    with time_machine.travel(NOW + dt.timedelta(days=3)):
        second = visit(odalys).get(pdf_of(certificate)).content

    assert first == second


@pytest.mark.parametrize("address", [lambda c: HANDOUT, pdf_of], ids=["handout", "certificate"])
@pytest.mark.parametrize(
    ("asked", "size"), [("", "a4"), ("?paper=a4", "a4"), ("?paper=letter", "letter")]
)
def test_paper_may_be_chosen(address, asked, size, certificate, visit, nils):
    answer = visit(nils).get(address(certificate) + asked)

    assert sheets.sizes_of(answer.content) == {sheets.POINTS[size]}


def test_the_house_s_own_paper_is_the_default(certificate, visit, nils, house):
    house.paper_size = "letter"
    house.save()

    for address in (HANDOUT, pdf_of(certificate)):
        assert sheets.sizes_of(visit(nils).get(address).content) == {sheets.POINTS["letter"]}


@pytest.mark.parametrize("size", ["", "a5", "A4", "../a4"])
def test_no_such_paper_size_is_bad_input(size, certificate, visit, nils):
    for address in (HANDOUT, pdf_of(certificate)):
        assert visit(nils).get(address, {"paper": size}).status_code == 400


@pytest.mark.parametrize("name", ["محمد", "山田", "Søren Ó'Brien-Ñ", "a" * 80])
def test_the_file_s_name_is_plain_whatever_the_hire_s(name, odalys, marek, tamsin, visit):
    hire = ready.make_ready(ready.somebody(odalys, name), tamsin)
    certificate = issue_certificate(by=marek, hire=hire, station=ready.station(hire), at=NOW)
    answer = visit(hire).get(pdf_of(certificate))

    assert answer.status_code == 200
    assert answer["Content-Disposition"].isascii()
    assert "certificate-" in answer["Content-Disposition"]


def test_codes_that_lead_nowhere_are_not_found(certificate, visit, odalys):
    for path in ("zzz.pdf", "zzz/revoke/"):
        assert visit(odalys).get(f"{HOUSE}/papers/certificate/{path}").status_code == 404


def test_a_handout_is_downloaded(visit, nils):
    answer = visit(nils).get(HANDOUT)

    assert answer.status_code == 200
    assert answer["Content-Disposition"] == 'attachment; filename="handout-rocks.pdf"'
    assert "Margarita" in sheets.text_of(answer.content)
    assert len(pypdf.PdfReader(io.BytesIO(answer.content)).pages) >= 1


def test_no_such_module_is_not_found(visit, nils):
    assert visit(nils).get(f"{HOUSE}/papers/handout/cellar.pdf").status_code == 404


# Revoking.


def test_the_form_says_what_will_happen(certificate, visit, marek):
    page = words(visit(marek).get(revoke_page(certificate)))

    assert "Nils, Beer point" in page
    assert "Once revoked it can’t be brought back" in page


def test_revoking_is_recorded_and_shown(certificate, visit, marek):
    browser = visit(marek)
    answer = browser.send(revoke_page(certificate), {"reason": "Left the keg room open."})

    assert (answer.status_code, answer["Location"]) == (302, PAPERS)
    assert Revocation.objects.get().by == marek
    page = words(browser.get(PAPERS))
    assert "Revoked. Whoever scans the paper now learns so." in page
    assert "<b>revoked</b>" in page
    assert "Left the keg room open." in page
    assert revoke_page(certificate) not in page
    assert "0 certificates hold" in page


@pytest.mark.parametrize("reason", ["", "  ", "x" * 501])
def test_a_bad_reason_is_told_beside_the_field_and_kept(reason, certificate, visit, marek):
    answer = visit(marek).send(revoke_page(certificate), {"reason": reason})

    assert answer.status_code == 200
    assert 'aria-invalid="true"' in words(answer)
    assert reason.strip() in words(answer)
    assert not Revocation.objects.exists()


def test_revoking_twice_is_refused(certificate, visit, marek, odalys):
    revoke(by=odalys, certificate=certificate, reason="Lost.", at=NOW)
    answer = visit(marek).send(revoke_page(certificate), {"reason": "Once more."})

    assert answer.status_code == 200
    assert "This certificate was revoked already." in words(answer)
    assert Revocation.objects.count() == 1


def test_a_revoked_paper_still_downloads_with_a_stamp(certificate, visit, marek, nils):
    revoke(by=marek, certificate=certificate, reason="Lost.", at=NOW)
    text = sheets.text_of(visit(nils).get(pdf_of(certificate)).content)

    assert "Revoked on March 12, 2026" in text
    assert "Lost." not in text


# One's own.


def test_my_papers_are_mine(certificate, visit, nils, odalys):
    other = ready.somebody(odalys, "Ines")

    mine = words(visit(nils).get(MINE))
    assert pdf_of(certificate) in mine
    assert "Holds until Sept. 7, 2026." in mine
    theirs = words(visit(other).get(MINE))
    assert certificate.code not in theirs
    assert "No certificate yet." in theirs


def test_my_papers_never_show_why_one_was_revoked(certificate, visit, marek, nils):
    revoke(by=marek, certificate=certificate, reason="Rude to Pia.", at=NOW)
    page = words(visit(nils).get(MINE))

    assert "The house has revoked this one." in page
    assert "Rude" not in page


def test_my_papers_offer_every_handout(visit, nils):
    page = words(visit(nils).get(MINE))

    assert HANDOUT in page
    assert page.count("/papers/handout/") == 5
