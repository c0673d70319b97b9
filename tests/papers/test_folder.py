"""The inspection folder and the training record: what stands on them, as PDF and as CSV."""

import csv
import datetime as dt
import io
from dataclasses import replace

import pypdf
import pytest
import time_machine
from django.utils.formats import date_format

from assessments.measures.pace_check import Error
from assessments.models.practical import Came
from barcourse.papers import folder, folder_sheet, training_record
from barcourse.papers.issue import issue_certificate
from barcourse.people import log, permits, refusals
from barcourse.people.log import Head
from recipes.menu import menu_at
from tests.factories import hands
from tests.papers import ready
from tests.papers.sheets import LONG

DAY, MINUTE = dt.timedelta(days=1), dt.timedelta(minutes=1)
NOW = ready.ISSUED + DAY
HEAD = Head(41, "0123456789abcdef" * 4)


def text_of(pdf):
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def rows_of(text):
    assert text.startswith("\ufeff")
    return list(csv.reader(io.StringIO(text.removeprefix("\ufeff"))))


@pytest.fixture
def shown(marek, tamsin, nils):
    """Nils is ready at the beer point and refused somebody; his permit has run out."""
    ready.make_ready(nils, tamsin)
    issue_certificate(by=marek, hire=nils, station=ready.station(nils), at=ready.ISSUED)
    permits.add_permit(
        by=marek, member=nils, kind="serving", number="A 12", at=ready.ISSUED,
        valid_until=ready.ISSUED.date() - DAY,
    )  # fmt: skip
    refusals.note(
        by=nils, what="drunk", happened_at=ready.ISSUED, words="Left in a taxi", at=ready.ISSUED
    )
    return nils


def facts(house, at=NOW):
    return folder.facts_of(menu_at(house, at))


def line_of(found, name):
    return next(line for line in found.people if line.name == name)


def test_it_says_who_may_serve_where_and_on_what_ground(shown, house):
    nils, marek = (line_of(facts(house), name) for name in ("Nils", "Marek"))

    assert (nils.in_training, nils.ready, nils.untrained) == (True, ("Beer point",), ())
    assert (marek.in_training, marek.ready) == (False, ())
    assert marek.untrained == ("Service and safety",)
    [permit] = nils.permits
    assert (permit.number, permit.holds) == ("A 12", False)


def test_training_is_due_again_after_as_long_as_a_certificate_holds(shown, house):
    [trained] = line_of(facts(house), "Nils").trained

    assert trained.due - trained.day == house.certificate_days * DAY
    late = facts(house, NOW + (house.certificate_days + 1) * DAY)
    assert "due again since" in text_of(folder.folder_pdf(late))
    assert "due again since" not in text_of(folder.folder_pdf(facts(house)))


def test_refusals_of_a_year_stand_in_it_and_older_ones_do_not(shown, house):
    [line] = facts(house).refused

    assert (line.what, line.words, line.by) == ("drunk", "Left in a taxi", "Nils")
    assert facts(house, NOW + folder.REFUSALS_FOR).refused == ()


def test_the_paper_says_all_of_it(shown, house):
    house.legal_age, house.challenge_age = 18, 30
    house.save(update_fields=["legal_age", "challenge_age"])

    said = text_of(folder.folder_pdf(facts(house)))

    for words in ("from the age of 18", "younger than 30", "Beer point", "A 12", "ran out",
                  "Left in a taxi", "own word, as staff", log.head(house).hash[:20]):  # fmt: skip
        assert words in said
    assert "not in training" not in said


def test_so_does_the_sheet(shown, house):
    rows = rows_of(folder_sheet.folder_csv(facts(house)))

    assert ["may serve", "Nils", "Beer point", "", "", "ready"] in rows
    assert ["may serve", "Marek", "", "", "", "by the house's own word, as staff"] in rows
    assert ["age policy", "", "age of sale", "", "", str(house.legal_age)] in rows
    assert any(row[:3] == ["permit", "Nils", "permit to serve alcohol"] for row in rows)
    assert any(row[5] == "Left in a taxi" for row in rows)
    assert {len(row) for row in rows} == {6}


def test_who_may_not_serve_is_told_with_why_where_the_rest_is_told(shown, marek, house):
    ready.somebody(marek, "Wanda")
    found = facts(house)
    new = line_of(found, "Wanda")
    assert new.not_yet

    said, rows = text_of(folder.folder_pdf(found)), rows_of(folder_sheet.folder_csv(found))

    for no in new.not_yet:
        assert no.why
        assert f"not yet: {', '.join(no.stations)}" in said
        for name in no.stations:
            [row] = [r for r in rows if r[:3] == ["may serve", new.name, name]]
            assert row[5] == f"no: {' '.join(no.why)}"


def on_paper(found):
    """Every fact of the folder as the paper words it."""

    def day(on):
        return date_format(on, "SHORT_DATE_FORMAT")

    yield from found.age_rules
    for who in found.people:
        yield from (who.name, who.role, day(who.since), *who.ready, *who.second, *who.untrained)
        for no in who.not_yet:
            yield from (*no.stations, *no.why)
        for once in who.once:
            yield from (once.station, once.when, once.by, once.reason, once.barred)
        for t in who.trained:
            yield from (t.module, day(t.day), day(t.due), *(day(d) for d in t.before))
        for p in who.permits:
            yield from (p.kind, p.number, day(p.until) if p.until else "no last day noted")
            yield "" if p.holds else "ran out"
    for r in found.refused:
        yield from (date_format(r.at, "SHORT_DATETIME_FORMAT"), r.what, r.words, r.by)


def in_sheet(found):
    """The same facts as the sheet words them."""
    yield from found.age_rules
    for who in found.people:
        yield from (who.name, who.role, str(who.since), *who.ready, *who.second, *who.untrained)
        for no in who.not_yet:
            yield from (*no.stations, *no.why)
        for once in who.once:
            yield from (once.station, once.when, once.by, once.reason, once.barred)
        for t in who.trained:
            yield from (t.module, str(t.day), str(t.due), *map(str, t.before))
        for p in who.permits:
            yield from (p.kind, p.number, str(p.until) if p.until else "no last day noted")
            yield "" if p.holds else "ran out"
    for r in found.refused:
        yield from (r.at.isoformat(sep=" ", timespec="minutes"), r.what, r.words, r.by)


def test_paper_and_sheet_tell_the_same_facts(shown, marek, tamsin, house):
    made = facts(house)
    day = made.as_of.date()
    rest = folder.PersonLine(
        "Wanda", "trainee", day, True, ("Well",), ("Door",),
        (folder.Trained("Cellar", day, day + DAY, True, (day - 9 * DAY, day - 5 * DAY)),),
        ("Gas",),
        (folder.PermitLine("first aid", "F 7", None, True),
         folder.PermitLine("food handling", "F 8", day - DAY, False)),
        (folder.NotYet(("Bar back", "Roof"), ("Two things are missing.",)),),
        (folder.Once("Roof", "Friday, until ten", "Marek", "Short of hands", ""),
         folder.Once("Bar back", "Sunday, until ten", "Marek", "", "A permit ran out."),),
    )  # fmt: skip
    found = replace(made, people=(*made.people, rest))

    said = text_of(folder.folder_pdf(found))
    sheet = " ".join(cell for row in rows_of(folder_sheet.folder_csv(found)) for cell in row)
    assert [fact for fact in on_paper(found) if fact not in said] == []
    assert [fact for fact in in_sheet(found) if fact not in sheet] == []


def test_earlier_passings_of_what_is_taken_again_stay_on_it(shown, tamsin, house):
    ready.pass_the_gate(shown, NOW + 30 * DAY)

    [trained] = line_of(facts(house, NOW + 31 * DAY), "Nils").trained

    assert [d < trained.day for d in trained.before] == [True]


def test_words_that_look_like_a_formula_stay_words(nils, house):
    at = ready.ISSUED
    refusals.note(by=nils, what="other", happened_at=at, words="=HYPERLINK(1)", at=at)

    assert any(row[5] == "'=HYPERLINK(1)" for row in rows_of(folder_sheet.folder_csv(facts(house))))


def test_the_record_lists_what_hands_have_shown(shown, tamsin, house):
    at = ready.ISSUED
    hands.spot(tamsin, shown, "madras", Came.WRONG, at=at - 4 * MINUTE, sent_back=True)
    hands.pour(tamsin, shown, at=at - 3 * MINUTE)
    hands.pace(tamsin, shown, errors={Error.POUR: 1}, at=at - 2 * MINUTE)
    hands.make_round(tamsin, shown, "madras", "madras", at=at - MINUTE)
    found = training_record.facts_of(shown, menu_at(house, NOW), reader=shown)

    assert [(c.what, c.about, c.by) for c in found.checked] == [
        ("in service", "Madras", "Tamsin"),
        ("pour check", "gin, by jigger", "Tamsin"),
        ("pace check", "Well", "Tamsin"),
        ("round", "2 \N{MULTIPLICATION SIGN} Madras", "Tamsin"),
    ]
    came = [c.came for c in found.checked]
    assert came[0] == "sent back by a guest; wrong"
    assert came[1].startswith("Passed: all 5 within tolerance.")
    assert came[2].endswith("A pour off: 1")
    assert came[3] == "Done in the best order."
    said = text_of(training_record.record_pdf(found))
    assert all(words in said for words in ("In service, pours, pace", "drinks an hour, likely"))
    rows = rows_of(training_record.record_csv(found))
    assert {len(row) for row in rows} == {14}
    assert [row[0] for row in rows if row[0].endswith("check")] == ["pour check", "pace check"]


def test_the_record_lists_quizzes_builds_and_certificates_with_the_head(shown, house):
    found = training_record.facts_of(shown, menu_at(house, NOW), reader=shown)

    assert [asked.name for asked in found.asked] == ["Service and safety"]
    assert len(found.watched) == ready.BUILDS_EACH * len(ready.DRINKS)
    assert {w.came for w in found.watched} == {"passed", "signed off"}
    assert [held.station for held in found.held] == ["Beer point"]
    said = text_of(training_record.record_pdf(found))
    assert "Training record of Nils" in said
    assert "Tamsin" in said
    assert found.head.hash[:20] in said
    assert log.check(house, found.head) == []


def test_the_sheet_of_the_record_has_a_line_for_each(shown, house):
    found = training_record.facts_of(shown, menu_at(house, NOW), reader=shown)
    head, *rows = rows_of(training_record.record_csv(found))

    kinds = [row[0] for row in rows]
    assert kinds.count("build") == len(found.watched)
    assert (kinds.count("quiz"), kinds.count("certificate"), kinds[-1]) == (1, 1, "head of the log")
    assert {len(row) for row in rows} == {len(head)}


def test_of_somebody_who_has_shown_nothing_there_is_a_short_one(nils, house):
    found = training_record.facts_of(nils, menu_at(house, NOW), reader=nils)

    assert "None finished." in text_of(training_record.record_pdf(found))
    _head, whose, last = rows_of(training_record.record_csv(found))
    assert (whose[0], whose[2], last[0]) == ("whose record", "Nils", "head of the log")


def test_the_same_facts_give_the_same_bytes_on_both_sizes():
    person = folder.PersonLine(
        LONG, "trainee", dt.date(2026, 3, 5), True, (), ("Well",), (), (), ()
    )
    when = dt.datetime(2026, 3, 12, 15, tzinfo=dt.UTC)
    for size in ("a4", "letter"):
        said = folder.FolderFacts(
            "Harbour Lights", when, HEAD, 18, 25, (person,) * 30, (), when.date(), size
        )

        first = folder.folder_pdf(said)

        assert first == folder.folder_pdf(said)
        assert len(pypdf.PdfReader(io.BytesIO(first)).pages) > 2


WORDS = "A long story of words, each of them short. " * 12
ONE_WORD = "Wilhelmina"


def test_a_name_is_never_broken_however_long_the_rest_is():
    when = dt.datetime(2026, 3, 12, 15, tzinfo=dt.UTC)
    line = folder.RefusedLine(when, "looked too young, no valid proof of age", WORDS, ONE_WORD)
    said = folder.FolderFacts("Harbour Lights", when, HEAD, 18, 25, (), (line,), when.date())
    day, came = when.date(), "signed off, the house has changed it since"
    built = training_record.Watched(day, WORDS, 1, ONE_WORD, "unprompted", 1234, came)
    checked = training_record.Checked(day, "in service", WORDS, ONE_WORD, WORDS)
    record = training_record.RecordFacts(
        "Harbour Lights", "Nils", "trainee", day, None, when, HEAD, (), (built,), (), (checked,),
        (training_record.Said(day, WORDS, day, WORDS, ONE_WORD),),
    )  # fmt: skip

    for size in ("a4", "letter"):
        assert text_of(folder.folder_pdf(replace(said, size=size))).count(ONE_WORD) == 1
        assert text_of(training_record.record_pdf(replace(record, size=size))).count(ONE_WORD) == 3


def test_a_trainee_gets_their_own_record_and_nobody_elses(visit, nils, pia, tamsin):
    path = "/h/harbour-lights/hires/{}/training-record.{}"
    with time_machine.travel(NOW, tick=False):
        for kind, content in (("pdf", "application/pdf"), ("csv", "text/csv; charset=utf-8")):
            own = visit(nils).get(path.format(nils.code, kind))
            assert (own.status_code, own["Content-Type"]) == (200, content)
            assert visit(nils).get(path.format(pia.code, kind)).status_code == 404
            assert visit(tamsin).get(path.format(nils.code, kind)).status_code == 200
