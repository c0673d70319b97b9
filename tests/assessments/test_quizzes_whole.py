"""Quizzes behind their sealed results: the database refuses to change them, and the check of the
log finds what was changed with its guards lifted."""

import pytest
from django.db import IntegrityError, connection, transaction

from assessments import quizzes_whole
from assessments.models import Answer, CardMark, Item, Quiz, QuizResult
from assessments.wording_refusals import FINDINGS
from barcourse.people import log, wording
from barcourse.people.reasons import Reason
from barcourse.people.sealed import SealedError
from tests.cast import tampering
from tests.factories import assessments as make
from tests.factories.people import hire as hire_somebody


def forge(sql, *params):
    with tampering(), connection.cursor() as cursor:
        cursor.execute(sql, params)
        assert cursor.rowcount == 1


def found(venue):
    return [(r.code, r.param("quiz")) for r in log.check(venue)]


def last_item(quiz):
    return quiz.items.select_related("answer").last()


def test_finished_and_open_quizzes_as_they_were_answered_are_whole(odalys, nils):
    make.take_quiz(nils, answering=make.wrong)
    make.take_quiz(nils, "rocks")
    make.answer(make.start_quiz(nils, "beer"), most=1)
    make.take_quiz(hire_somebody(odalys, "Bo"))

    assert log.check(nils.venue) == []


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE assessments_answer SET choice = choice + 1 WHERE item_id = %s",
        "UPDATE assessments_answer SET came = 'right' WHERE item_id = %s",
        "UPDATE assessments_item SET build = 'x' WHERE id = %s",
        "UPDATE assessments_item SET kind = 'whole_' WHERE id = %s",
        "UPDATE assessments_item SET choices = 9 WHERE id = %s",
        "UPDATE assessments_item SET position = 99 WHERE id = %s",
    ],
)
def test_a_changed_item_or_answer_is_found(nils, sql):
    quiz = make.take_quiz(nils, answering=make.wrong)

    forge(sql, last_item(quiz).pk)

    assert found(nils.venue) == [("quiz_changed", quiz.code)]


def test_another_right_choice_is_found(nils):
    quiz = make.take_quiz(nils, answering=make.wrong)
    item = next(i for i in quiz.items.all() if make.is_one_choice(i))
    asked = {**item.asked, "right": item.answer.choice}

    stored = Item._meta.get_field("asked").get_db_prep_value(asked, connection)
    forge("UPDATE assessments_item SET asked = %s WHERE id = %s", stored, item.pk)

    assert found(nils.venue) == [("quiz_changed", quiz.code)]


def test_a_quiz_given_to_somebody_else_is_found(odalys, nils):
    quiz, bo = make.take_quiz(nils), hire_somebody(odalys, "Bo")

    forge("UPDATE assessments_quiz SET hire_id = %s WHERE id = %s", bo.pk, quiz.pk)

    assert found(nils.venue) == [("quiz_changed", quiz.code)]


def test_a_quiz_moved_to_another_module_is_found(nils):
    quiz, beer = make.take_quiz(nils), make.module_of(nils, "beer")

    forge("UPDATE assessments_quiz SET module_id = %s WHERE id = %s", beer.pk, quiz.pk)

    assert found(nils.venue) == [("quiz_changed", quiz.code)]


def test_a_deleted_answer_is_found_and_only_there(nils):
    quiz, other = make.take_quiz(nils), make.take_quiz(nils, "rocks")

    forge("DELETE FROM assessments_answer WHERE item_id = %s", last_item(quiz).pk)

    assert found(nils.venue) == [("quiz_answers_missing", quiz.code)]
    assert other.code not in str(log.check(nils.venue))


def test_items_deleted_with_their_answers_are_found(nils):
    quiz, other = make.take_quiz(nils), make.take_quiz(nils, "rocks")
    item = last_item(other)
    with tampering(), connection.cursor() as cursor:
        cursor.execute(
            "DELETE FROM assessments_answer WHERE item_id IN"
            " (SELECT id FROM assessments_item WHERE quiz_id = %s)",
            [quiz.pk],
        )
        cursor.execute("DELETE FROM assessments_item WHERE quiz_id = %s", [quiz.pk])
        cursor.execute("DELETE FROM assessments_answer WHERE item_id = %s", [item.pk])
        cursor.execute("DELETE FROM assessments_item WHERE id = %s", [item.pk])

    assert found(nils.venue) == [
        ("quiz_answers_missing", quiz.code),
        ("quiz_changed", other.code),
    ]


def test_a_finished_quiz_without_its_result_is_found(nils):
    quiz = make.take_quiz(nils)

    forge("DELETE FROM assessments_quizresult WHERE quiz_id = %s", quiz.pk)

    codes = [r.code for r in log.check(nils.venue)]
    assert codes == ["row_missing", "quiz_without_result"]


def test_the_neighbour_s_quizzes_are_the_neighbour_s(nils, ravna):
    quiz = make.take_quiz(hire_somebody(ravna, "Bo"))
    make.take_quiz(nils)

    forge("UPDATE assessments_answer SET came = 'ask' WHERE item_id = %s", last_item(quiz).pk)

    assert found(nils.venue) == []
    assert found(ravna.venue) == [("quiz_changed", quiz.code)]


def test_the_queries_don_t_grow_with_the_quizzes(nils, django_assert_num_queries):
    make.take_quiz(nils)
    with django_assert_num_queries(3):
        quizzes_whole.find(nils.venue)
    for module in ("rocks", "beer", make.GATE):
        make.take_quiz(nils, module)
    with django_assert_num_queries(3):
        assert quizzes_whole.find(nils.venue) == []


@pytest.mark.parametrize("code", FINDINGS)
def test_what_is_found_has_words(code):
    assert "K7Q" in wording.say(Reason.of(code, quiz="K7Q", run="K7Q"))


TABLES = ("assessments_item", "assessments_answer", "assessments_cardmark")


@pytest.mark.parametrize("table", TABLES)
def test_the_database_refuses_to_change_or_delete_them(nils, table):
    make.take_quiz(nils)
    make.turn_card(nils, "madras")
    for sql in (f"UPDATE {table} SET venue_id = venue_id", f"DELETE FROM {table}"):
        with (
            pytest.raises(IntegrityError, match="sealed"),
            transaction.atomic(),
            connection.cursor() as cursor,
        ):
            cursor.execute(sql)


@pytest.mark.sqlite_only
def test_the_database_refuses_to_replace_an_answer(nils):
    make.take_quiz(nils)
    into = "id, venue_id, item_id, choice, came, milliseconds, at"
    row = "id, venue_id, item_id, -1, 'ask', milliseconds, at"
    for verb in ("INSERT OR REPLACE", "REPLACE"):
        with (
            pytest.raises(IntegrityError, match="sealed"),
            transaction.atomic(),
            connection.cursor() as cursor,
        ):
            cursor.execute(
                f"{verb} INTO assessments_answer ({into}) SELECT {row} FROM assessments_answer"
            )


@pytest.mark.parametrize("model", [Item, Answer, CardMark])
def test_our_own_code_is_told_clearly(nils, model):
    make.take_quiz(nils)
    make.turn_card(nils, "madras")
    row = model.objects.first()
    for wrong in (row.save, row.delete, model.objects.all().delete):
        with pytest.raises(SealedError):
            wrong()


def test_a_quiz_reopened_by_hand_is_still_looked_at(nils):
    """Its own row may change (it is finished once), so nothing refuses this."""
    quiz = make.take_quiz(nils)
    Quiz.objects.filter(pk=quiz.pk).update(finished_at=None)
    forge("UPDATE assessments_answer SET choice = -1 WHERE item_id = %s", last_item(quiz).pk)

    assert found(nils.venue) == [("quiz_changed", quiz.code)]
    assert QuizResult.objects.count() == 1
