"""No verb forgets its entry. A verb that is missing from the table fails."""

import inspect

import pytest
from django.apps import apps

from assessments import record
from barcourse.people import log
from barcourse.people.models import LogEntry
from barcourse.people.sealed import SealedModel
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW


def void(trainer, hire):
    watched = make.sign_off(trainer, hire).watched
    record.void_build(by=trainer, watched=watched, reason="wrong hire", at=LATER)


# How each verb is called by the trainer about the hire, and the kind of entry that it leaves:
# none where it writes no sealed row.
VERBS = {
    "mark_read": (lambda trainer, hire: make.read(hire), None),
    "mark_card": (lambda trainer, hire: make.turn_card(hire, "madras"), None),
    "start_quiz": (lambda trainer, hire: make.start_quiz(hire), None),
    "answer_item": (lambda trainer, hire: make.take_quiz(hire, make.GATE), "quiz_finished"),
    "watch_build": (make.watch, "build_watched"),
    "sign_off": (make.sign_off, "signed_off"),
    "void_build": (void, "build_voided"),
}


def public_verbs():
    return {
        name: function
        for name, function in inspect.getmembers(record, inspect.isfunction)
        if function.__module__ == record.__name__ and not name.startswith("_")
    }


def sealed_rows():
    models = [
        m for m in apps.get_app_config("assessments").get_models() if issubclass(m, SealedModel)
    ]
    return {model.__name__: model.objects.count() for model in models}


def test_every_verb_is_in_the_table():
    assert set(public_verbs()) == set(VERBS)


@pytest.mark.parametrize("name", VERBS)
def test_it_writes_its_entry_and_the_log_stays_whole(tamsin, nils, name):
    call, kind = VERBS[name]
    before, head = sealed_rows(), log.head(tamsin.venue).number

    call(tamsin, nils)

    written = sum(sealed_rows().values()) - sum(before.values())
    entries = LogEntry.objects.filter(number__gt=head)
    assert entries.count() == written
    assert (kind in entries.values_list("kind", flat=True)) is (kind is not None)
    assert log.check(tamsin.venue) == []


@pytest.mark.parametrize("name", VERBS)
def test_it_takes_its_arguments_by_name_and_is_told_who_and_when(name):
    parameters = inspect.signature(public_verbs()[name]).parameters

    assert all(p.kind is p.KEYWORD_ONLY for p in parameters.values())
    assert {"by", "at"} <= set(parameters)


def test_entries_say_who_about_whom_and_when(tamsin, pia, nils):
    signed = make.sign_off(tamsin, nils, note="steady")
    record.void_build(by=pia, watched=signed.watched, reason="wrong hire", at=LATER)

    said = LogEntry.objects.filter(row_table__startswith="assessments").order_by("number")
    assert [(e.kind, e.by_code, e.subject_code, e.at) for e in said] == [
        ("build_watched", tamsin.code, nils.code, NOW),
        ("signed_off", tamsin.code, nils.code, NOW),
        ("build_voided", pia.code, nils.code, LATER),
    ]
    assert [bool(e.text_code) for e in said] == [True, False, True]


def test_no_name_and_no_word_stands_in_the_log(tamsin, nils):
    make.sign_off(tamsin, nils, note="steady hands")
    make.take_quiz(nils, make.GATE)

    written = str(list(LogEntry.objects.filter(row_table__startswith="assessments").values()))
    for said in ("Nils", "Tamsin", "steady", "Madras"):
        assert said not in written


def test_the_log_is_whole_after_a_full_day(odalys, tamsin, pia, nils):
    make.read(nils)
    make.turn_card(nils, "madras")
    make.take_quiz(nils)
    make.take_quiz(nils, make.GATE)
    make.watch(tamsin, nils, "negroni", off=["stir"], note="took the shaker")
    make.sign_off(tamsin, nils, "negroni", at=LATER)
    signed = make.sign_off(pia, nils, "madras")
    record.void_build(by=odalys, watched=signed.watched, reason="another hire's build", at=LATER)

    assert log.check(odalys.venue) == []
    written = {name: count for name, count in sealed_rows().items() if count}
    assert written == {"QuizResult": 2, "WatchedBuild": 3, "SignOff": 2, "Void": 1}


def test_a_sealed_row_without_an_entry_is_found(tamsin, nils):
    build = make.watch(tamsin, nils)
    fields = {f.attname: getattr(build, f.attname) for f in build._meta.concrete_fields}
    type(build)(**{**fields, "id": None, "code": "a" * 20}).save()

    assert [r.code for r in log.check(tamsin.venue)] == ["row_unlogged"]
