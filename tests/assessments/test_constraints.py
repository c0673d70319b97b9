"""What the database itself refuses, whoever writes to it."""

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction

from assessments import record
from assessments.models import Answer, Item, Quiz, QuizResult, SignOff, Void, WatchedBuild
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW


def refused(write, error=IntegrityError):
    with pytest.raises(error), transaction.atomic():
        write()


def copy_of(row, **said):
    """The row once more, unsaved, past every rule of the verbs."""
    fields = {
        f.attname: getattr(row, f.attname) for f in row._meta.concrete_fields if f.attname != "id"
    }
    return type(row)(**{**fields, **said})


def raw_copy(row, **said):
    """The same by SQL alone."""
    new = copy_of(row, **said)
    fields = [f for f in row._meta.concrete_fields if f.attname != "id"]
    values = [f.get_db_prep_save(f.value_from_object(new), connection) for f in fields]
    columns = ", ".join(f'"{f.column}"' for f in fields)
    marks = ", ".join(["%s"] * len(fields))
    with connection.cursor() as cursor:
        cursor.execute(f'INSERT INTO "{row._meta.db_table}" ({columns}) VALUES ({marks})', values)


def test_raw_copy_works_where_nothing_is_wrong(tamsin, nils):
    raw_copy(make.watch(tamsin, nils), code="a" * 20)

    assert WatchedBuild.objects.count() == 2


def test_nobody_watches_themselves(tamsin, nils):
    build = make.watch(tamsin, nils)

    refused(lambda: raw_copy(build, code="a" * 20, trainer_id=nils.pk))


def test_nobody_signs_for_themselves(tamsin, nils):
    signed = make.sign_off(tamsin, nils)
    second = make.watch(tamsin, nils)

    refused(lambda: raw_copy(signed, watched_id=second.pk, trainer_id=nils.pk))


def test_nobody_voids_their_own_record(tamsin, nils):
    void = record.void_build(by=tamsin, watched=make.watch(tamsin, nils), reason="x", at=NOW)
    second = make.watch(tamsin, nils)

    refused(lambda: raw_copy(void, watched_id=second.pk, by_id=nils.pk))


def test_a_build_has_one_sign_off_and_one_void(tamsin, nils):
    signed = make.sign_off(tamsin, nils)
    void = record.void_build(by=tamsin, watched=signed.watched, reason="x", at=LATER)

    refused(lambda: raw_copy(signed))
    refused(lambda: raw_copy(void))


@pytest.mark.parametrize("field", ["hire_id", "trainer_id"])
def test_a_build_stays_in_its_house(tamsin, nils, ravna, field):
    build = make.watch(tamsin, nils)

    refused(lambda: raw_copy(build, code="a" * 20, **{field: ravna.pk}), DatabaseError)


SEALED = [WatchedBuild, SignOff, Void, QuizResult]


@pytest.mark.parametrize("model", SEALED)
@pytest.mark.parametrize("change", ["UPDATE {table} SET at = at", "DELETE FROM {table}"])
def test_what_is_sealed_is_neither_changed_nor_deleted(tamsin, nils, model, change):
    signed = make.sign_off(tamsin, nils)
    record.void_build(by=tamsin, watched=signed.watched, reason="x", at=LATER)
    make.take_quiz(nils, make.GATE)
    assert model.objects.exists()

    with pytest.raises(DatabaseError), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(change.format(table=model._meta.db_table))


def test_one_open_quiz_a_module(nils):
    quiz = make.start_quiz(nils)

    refused(lambda: copy_of(quiz, code="a" * 20).save())


def test_one_answer_an_item_and_no_nonsense(nils):
    quiz = make.answer(make.start_quiz(nils), most=1)
    given = Answer.objects.get()
    unanswered = quiz.items.last()

    refused(lambda: copy_of(given).save())
    refused(lambda: copy_of(given, item_id=unanswered.pk, choice=-2).save())


def test_one_item_a_position(nils):
    item = make.start_quiz(nils).items.first()

    refused(lambda: copy_of(item).save())
    assert (Quiz.objects.count(), Item.objects.filter(position=item.position).count()) == (1, 1)
