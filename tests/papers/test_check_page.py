"""The public page that says whether a paper holds."""

import datetime as dt
import re

import pytest
import time_machine

from barcourse.papers.certificate import certificate_pdf, facts_of
from barcourse.papers.issue import revoke
from tests.papers import ready, sheets
from tests.papers.sheets import words

NOW = ready.ISSUED + dt.timedelta(hours=1)


@pytest.fixture(autouse=True)
def _an_hour_after_it_was_issued():
    with time_machine.travel(NOW, tick=False):
        yield


def check_page(certificate):
    return f"/paper/{certificate.code}/"


def test_anybody_learns_that_a_paper_holds(certificate, visit):
    answer = visit().get(check_page(certificate))
    page = words(answer)

    assert answer.status_code == 200
    assert "<b>Valid.</b> It holds until the end of Sept. 7, 2026." in page
    for said in ("Harbour Lights", "Nils", "Beer point", "March 12, 2026", certificate.log_hash):
        assert said in page
    assert "no legal permit to serve" in page


def test_after_its_day_it_has_expired(certificate, visit):
    with time_machine.travel(dt.datetime(2026, 9, 8, 12, 0, tzinfo=dt.UTC)):
        answer = visit().get(check_page(certificate))

    assert answer.status_code == 200
    assert "<b>Expired.</b> It held until the end of Sept. 7, 2026." in words(answer)
    assert "<b>Valid.</b>" not in words(answer)


def test_once_revoked_it_says_so_and_not_why(certificate, visit, marek):
    revoke(by=marek, certificate=certificate, reason="Rude to Pia.", at=NOW)
    answer = visit().get(check_page(certificate))

    assert answer.status_code == 200
    assert "<b>Revoked.</b> The house took it back on March 12, 2026." in words(answer)
    assert "Rude" not in words(answer)
    assert "<b>Valid.</b>" not in words(answer)


@pytest.mark.parametrize("code", ["abcdefghij0123456789", "x", "A-B_c", "0" * 300])
def test_a_paper_that_was_never_issued_is_denied(code, certificate, visit):
    answer = visit().get(f"/paper/{code}/")

    assert answer.status_code == 404
    assert "<b>No such paper.</b>" in words(answer)
    assert "Nils" not in words(answer)


def test_the_public_page_says_no_more_than_the_paper(certificate, visit):
    paper = sheets.text_of(certificate_pdf(facts_of(certificate)))
    page = words(visit().get(check_page(certificate)))
    values = re.findall(r"<dd>(.*?)</dd>|<small>(.*?)</small>", page)

    assert len(values) == 7
    for value in filter(None, (value for pair in values for value in pair)):
        assert value in paper
    for kept_back in ("Of 100 orders", "Snakebite", "Marek", "trainee"):
        assert kept_back not in page


@pytest.mark.parametrize("known", [True, False])
def test_the_public_page_is_neither_kept_nor_found(known, certificate, visit):
    path = check_page(certificate) if known else "/paper/abcdefghij0123456789/"
    answer = visit().get(path)

    assert answer["Cache-Control"] == "no-store"
    assert answer["X-Robots-Tag"] == "noindex, nofollow"
    assert '<meta name="robots" content="noindex, nofollow">' in words(answer)


def test_it_reads_the_same_to_the_signed_in(certificate, visit, ravna):
    answer = visit(ravna).get(check_page(certificate))

    assert "<b>Valid.</b>" in words(answer)
