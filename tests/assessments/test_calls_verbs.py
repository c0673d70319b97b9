"""Call practice through its verbs: what is stored, what it teaches, what it proves."""

import datetime as dt

import pytest
from django.db import connection

from assessments import board, facts, reads_quiz, record_calls, record_shift
from assessments.history import Numbered, shown_by
from assessments.measures.call_marking import DrinkGiven
from assessments.measures.call_parts import Piece
from assessments.measures.call_writing import COUNT, CallAsked, CallKind, call_of, write_calls
from assessments.measures.sales_mix import ShiftKind
from assessments.models import CallAnswer, CallMark, CallResult, Memory, ReadyRow
from barcourse.people import log
from barcourse.people.models import LogEntry
from barcourse.people.reasons import Refused
from recipes.menu import menu_at
from tests.cast import tampering
from tests.factories import calls as make
from tests.factories.assessments import NOW

pytestmark = pytest.mark.django_db


def test_a_run_is_drawn_up_and_another_of_its_kind_waits_for_it(nils):
    run = make.start(nils, NOW, CallKind.RUSH)

    assert run.calls.count() == COUNT[CallKind.RUSH] == 20
    assert make.start(nils, NOW, CallKind.RUSH, seed=5) == run
    assert make.start(nils, NOW, CallKind.SINGLE) != run


def test_the_same_seed_makes_the_same_calls_again(nils):
    run = make.start(nils, NOW)
    again = write_calls(CallKind.SINGLE, record_calls.bar_of(menu_at(nils.venue, NOW)), run.seed)

    assert [make.asked_of(c) for c in run.calls.all()] == list(again)


def test_calls_come_as_the_shift_sells_that_the_hire_works_next(nils, monkeypatch):
    weighed = []
    monkeypatch.setattr(
        record_calls, "as_sold", lambda menu, kind=None: weighed.append(kind) or menu
    )
    make.start(nils, NOW, CallKind.ROUND)
    saturday = NOW + dt.timedelta(days=(5 - NOW.weekday()) % 7 + 7)
    starts_at = nils.venue.local(saturday).replace(hour=23, minute=0)
    record_shift.say_next_shift(by=nils, hire=nils, starts_at=starts_at, minutes=10, at=NOW)
    make.start(nils, NOW, CallKind.RUSH)

    assert weighed == [None, ShiftKind.WEEKEND_LATE]


def test_a_run_built_right_is_sealed_with_one_entry_in_the_log(nils):
    run = make.build(make.start(nils, NOW), NOW, ms=3000)

    result = CallResult.objects.get(run=run)
    assert (result.right, result.would_ask, result.wrong) == (5, 0, 0)
    assert result.seconds == 15
    assert run.finished_at == NOW
    [entry] = LogEntry.objects.filter(venue=nils.venue, kind="calls_finished")
    assert entry.facts == {"right": 5, "ask": 0, "wrong": 0}


@pytest.mark.parametrize(("building", "came"), [(make.ask, "would_ask"), (make.wrong, "wrong")])
def test_asking_and_building_wrong_are_told_apart(nils, building, came):
    run = make.build(make.start(nils, NOW), NOW, building)

    assert getattr(CallResult.objects.get(run=run), came) == 5


def test_a_time_that_nobody_knows_makes_no_time_of_the_run(nils):
    run = make.build(make.start(nils, NOW), NOW, ms=None)

    assert CallResult.objects.get(run=run).seconds is None


def test_the_first_answer_counts(nils):
    run = make.start(nils, NOW)
    [call, *_] = run.calls.select_related("run")
    drinks = make.asked_of(call).drinks
    for building in (make.wrong, make.right):
        given = [building(d) for d in drinks]
        record_calls.answer_call(by=nils, call=call, given=given, at=NOW)

    assert CallAnswer.objects.get(call=call).came == "wrong"
    assert CallMark.objects.filter(answer__call=call).count() == len(drinks)


def test_somebody_elses_calls_and_half_a_build_are_refused(nils, tamsin):
    [call, *_] = make.start(nils, NOW).calls.select_related("run")
    drinks = make.asked_of(call).drinks
    whole = [make.right(d) for d in drinks]

    with pytest.raises(Refused) as no:
        record_calls.answer_call(by=tamsin, call=call, given=whole, at=NOW)
    assert no.value.reason.code == "not_your_calls"
    half = [DrinkGiven(whole[0].parts[1:], count=whole[0].count)]
    uncounted = [DrinkGiven(whole[0].parts, whole[0].ask)]
    for given in (half, uncounted, [], [*whole, None]):
        with pytest.raises(Refused) as no:
            record_calls.answer_call(by=nils, call=call, given=given, at=NOW)
        assert no.value.reason.code == "half_a_build"
    assert not CallAnswer.objects.exists()


def plain(hire, building, slug="madras"):
    """One finished run of a single call, the drink just as the house builds it."""
    return make.call_plain(hire, slug, NOW, building)


@pytest.mark.parametrize(
    ("building", "trial"),
    [(make.right, "right"), (make.ask, "ask"), (make.wrong, "wrong")],
)
def test_a_drink_called_as_the_house_builds_it_is_evidence_on_it(nils, building, trial):
    plain(nils, building)

    menu = menu_at(nils.venue, NOW)
    evidence = facts.gather(menu, [nils]).evidence[nils.pk]["madras"]
    assert {t: getattr(evidence, t) for t in ("right", "ask", "wrong")} == {
        "right": 0, "ask": 0, "wrong": 0, trial: 1,
    }  # fmt: skip


def test_a_wrong_number_of_a_drink_built_right_is_a_wrong_call_and_right_evidence(nils):
    def one_more(drink):
        given = make.right(drink)
        return DrinkGiven(given.parts, given.ask, given.count + 1)

    run = plain(nils, one_more)

    assert CallResult.objects.get(run=run).wrong == 1
    assert CallMark.objects.get().came == "right"
    evidence = facts.gather(menu_at(nils.venue, NOW), [nils]).evidence[nils.pk]["madras"]
    assert (evidence.right, evidence.wrong) == (1, 0)
    assert log.check(nils.venue) == []


def test_it_counts_for_readiness_at_once(nils):
    """The packed row is told, and worked out anew the trial is in it."""
    menu = menu_at(nils.venue, NOW)
    station = nils.venue.stations.get(slug="well")
    before = board.verdict_for(nils, station, NOW)
    held = ReadyRow.objects.get(hire=nils).evidence

    plain(nils, make.right)

    assert ReadyRow.objects.get(hire=nils).evidence == held + 1
    assert board.verdict_for(nils, station, NOW) != before
    [trial] = shown_by([nils], Numbered(menu))[nils.pk]
    assert (trial.outcome, trial.chosen, trial.counts) == ("right", False, True)


def test_a_drink_called_with_a_change_is_none_on_the_drink_as_it_is(nils):
    asked = call_of("madras no ice", record_calls.bar_of(menu_at(nils.venue, NOW)))
    plain_one = call_of("madras", record_calls.bar_of(menu_at(nils.venue, NOW)))

    assert asked.drinks[0].recipe == plain_one.drinks[0].recipe == "madras"
    assert asked.drinks[0].build != plain_one.drinks[0].build


def test_what_was_right_and_wrong_goes_into_memory_aspect_by_aspect(nils):
    def mixers_wrong(drink):
        given = make.right(drink)
        picked = [
            frozenset() if part.piece is Piece.MIXERS else chosen
            for part, chosen in zip(drink.parts, given.parts, strict=True)
        ]
        return DrinkGiven(tuple(picked), given.ask, given.count)

    plain(nils, mixers_wrong)

    menu = menu_at(nils.venue, NOW)
    lapses = {m.topic: m.due for m in Memory.objects.of(nils)}
    topics = [t for t in menu.by_slug["madras"].drink.topics if not t.is_pour_size]
    assert set(lapses) == {t.fingerprint for t in topics}
    soon = {t.aspect for t in topics if lapses[t.fingerprint] < NOW + dt.timedelta(days=1)}
    assert soon == {"mixers"}


def test_another_drink_built_instead_is_a_mix_up(nils):
    def other(drink):
        picks = {one.recipe: one.picks for one in drink.alike}
        return DrinkGiven(picks["bay-breeze"], count=drink.count)

    plain(nils, other)
    [seen] = reads_quiz.seen_lately([nils], menu_at(nils.venue, NOW))

    assert (seen.asked, seen.given, seen.source) == ("madras", "bay-breeze", "call")


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE assessments_callmark SET came = 'right'",
        "UPDATE assessments_callanswer SET came = 'right'",
        "UPDATE assessments_callanswer SET milliseconds = 1",
        "UPDATE assessments_call SET position = position + 40",
    ],
)
def test_what_was_changed_afterwards_is_found(nils, sql):
    run = make.build(make.start(nils, NOW), NOW, make.wrong)
    make.start(nils, NOW)
    assert log.check(nils.venue) == []

    with tampering(), connection.cursor() as cursor:
        cursor.execute(sql)

    assert [(r.code, r.param("run")) for r in log.check(nils.venue)] == [
        ("calls_changed", run.code)
    ]


def test_a_result_that_is_gone_is_found(nils):
    run = make.build(make.start(nils, NOW), NOW)

    with tampering(), connection.cursor() as cursor:
        cursor.execute("DELETE FROM assessments_callresult")

    assert ("calls_without_result", run.code) in [
        (r.code, dict(r.params).get("run")) for r in log.check(nils.venue)
    ]


def rush_left_after(nils, answered):
    """A rush of which only so many calls were answered, and a moment after its time was up."""
    run = make.start(nils, NOW, CallKind.RUSH)
    for call in run.calls.select_related("run")[:answered]:
        given = [make.wrong(d) for d in make.asked_of(call).drinks]
        record_calls.answer_call(by=nils, call=call, given=given, at=NOW, milliseconds=4000)
    return run, run.ends_at + dt.timedelta(minutes=5)


@pytest.mark.parametrize("answered", [0, 3, 19])
def test_a_rush_that_was_left_ends_when_its_time_is_up(nils, answered):
    run, later = rush_left_after(nils, answered)

    result = record_calls.close_calls(by=nils, run=run, at=later)

    run.refresh_from_db()
    assert run.finished_at == result.at == run.ends_at == NOW + dt.timedelta(minutes=30)
    assert (result.right, result.would_ask, result.wrong) == (0, 0, answered)
    assert CallResult.objects.of(nils).with_unanswered().get().unanswered == 20 - answered
    assert CallAnswer.objects.count() == answered
    assert CallMark.objects.count() == answered, "what nobody answered proves nothing"
    assert log.check(nils.venue) == []
    [entry] = LogEntry.objects.filter(venue=nils.venue, kind="calls_finished")
    assert entry.facts["unanswered"] == 20 - answered
    assert record_calls.close_calls(by=nils, run=run, at=later) == result


def test_a_rush_whose_time_is_up_takes_no_answer_closed_or_not(nils):
    run, later = rush_left_after(nils, 2)
    call = run.calls.select_related("run").filter(answer__isnull=True)[0]
    given = [make.right(d) for d in make.asked_of(call).drinks]

    def refused(at):
        with pytest.raises(Refused) as no:
            record_calls.answer_call(by=nils, call=call, given=given, at=at)
        assert no.value.reason.code == "rush_is_over"

    refused(later)
    record_calls.close_calls(by=nils, run=run, at=later)
    refused(later)
    refused(NOW)  # sent in time, but it had to wait until another tab had closed the rush
    assert CallAnswer.objects.count() == 2


def test_another_rush_begins_once_the_one_that_lies_open_is_over(nils):
    run, later = rush_left_after(nils, 2)

    another = make.start(nils, later, CallKind.RUSH)

    assert another != run
    assert CallResult.objects.get(run=run).wrong == 2


@pytest.mark.parametrize("kind", [CallKind.RUSH, CallKind.ROUND])
def test_only_a_rush_is_closed_and_only_once_its_time_is_up(nils, tamsin, kind):
    run = make.start(nils, NOW, kind)
    a_day = NOW + dt.timedelta(days=1)
    for by, at, said in [
        (nils, NOW if kind is CallKind.RUSH else a_day, "rush_has_time_left"),
        (tamsin, a_day, "not_your_calls"),
    ]:
        with pytest.raises(Refused) as no:
            record_calls.close_calls(by=by, run=run, at=at)
        assert no.value.reason.code == said


def test_answers_that_came_late_by_an_older_rule_stay_and_the_rush_ends_with_the_last(nils):
    run = make.start(nils, NOW, CallKind.RUSH)
    [call, *_] = run.calls.select_related("run")
    late = NOW + dt.timedelta(hours=2)
    asked = make.asked_of(call)
    CallAnswer.objects.create(
        venue=nils.venue, call=call, said=[None], came="ask", at=late, milliseconds=None
    )
    assert len(asked.drinks) == 1

    result = record_calls.close_calls(by=nils, run=run, at=late + dt.timedelta(days=3))

    assert (result.at, result.would_ask) == (late, 1)
    assert log.check(nils.venue) == []


GONE = "DELETE FROM assessments_callmark; DELETE FROM assessments_callanswer"
MOVED = (
    "UPDATE assessments_callanswer SET call_id = (SELECT MAX(id) FROM assessments_call)"
    " WHERE id = (SELECT MAX(id) FROM assessments_callanswer)"
)


@pytest.mark.parametrize(
    ("sql", "code"),
    [
        (GONE, "call_answers_missing"),
        (MOVED, "calls_changed"),
    ],
)
def test_an_answer_that_is_gone_from_a_rush_or_moved_in_it_is_found(nils, sql, code):
    run, later = rush_left_after(nils, 3)
    record_calls.close_calls(by=nils, run=run, at=later)

    with tampering(), connection.cursor() as cursor:
        for statement in sql.split(";"):
            cursor.execute(statement)

    assert [(r.code, r.param("run")) for r in log.check(nils.venue)] == [(code, run.code)]


def test_an_answer_put_in_afterwards_is_found(nils):
    run, later = rush_left_after(nils, 3)
    record_calls.close_calls(by=nils, run=run, at=later)
    call = run.calls.filter(answer__isnull=True)[0]

    CallAnswer.objects.create(venue=nils.venue, call=call, said=[None], came="ask", at=NOW)

    assert [r.code for r in log.check(nils.venue)] == ["calls_changed"]


def test_calls_read_back_as_they_were_stored(nils):
    run = make.start(nils, NOW, CallKind.ROUND)

    for call in run.calls.all():
        assert CallAsked.from_json(call.asked).to_json() == call.asked
