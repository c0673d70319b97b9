"""When somebody works next, and what is usual for them: both choose their cards."""

import datetime as dt

import pytest

from assessments import reads, record_shift
from assessments.ahead import code_of
from assessments.measures.memory import recall
from assessments.measures.shift_plan import plan_shift
from assessments.models import Habit, Memory, ShiftAhead
from assessments.recalls import recalls
from barcourse.people import log
from barcourse.people.models import LogEntry
from barcourse.people.reasons import Refused
from recipes.grammar.aspects import Aspect
from tests.assessments.pages import address, fields, text
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.recipes import DAY
from tests.factories.tills import NIGHTS, take_in

SATURDAY = NOW + 5 * DAY
HOUR = dt.timedelta(hours=1)


def say(by, hire=None, starts_at=SATURDAY, minutes=10, at=NOW):
    return record_shift.say_next_shift(
        by=by, hire=hire or by, starts_at=starts_at, minutes=minutes, at=at
    )


def planned(hire, at=LATER):
    menu = make.menu_of(hire, at)
    return reads.planned(hire, menu, at, reads.modules_of(hire, menu))


def test_who_has_said_nothing_gets_five_minutes(nils):
    make.read(nils)
    found = planned(nils)

    assert (found.shift, found.minutes) == (None, reads.MINUTES)
    assert 0 < found.plan.seconds <= 300


def test_the_plan_takes_the_minutes_that_there_are(nils):
    make.read(nils)
    say(nils, minutes=2)

    assert planned(nils).minutes == 2
    assert planned(nils).plan.seconds <= 120
    assert planned(nils).plan.waiting > 0


def study(hire, minutes, at=LATER):
    """So many minutes on one card, a minute each, the last just before the moment."""
    for n in range(minutes):
        when = at - dt.timedelta(minutes=minutes - 1 - n)
        make.turn_card(hire, "madras", at=when, milliseconds=60_000)


def test_the_minutes_of_a_day_are_a_budget(nils):
    make.read(nils)
    say(nils, minutes=4)
    study(nils, 2)

    found = planned(nils)
    assert not found.is_spent
    assert 0 < found.plan.seconds <= 120
    study(nils, 4)
    assert planned(nils).is_spent
    assert (planned(nils).plan.cards, planned(nils).plan.waiting > 0) == ((), True)
    assert not planned(nils, at=LATER + DAY).is_spent


def test_less_than_a_look_is_nothing_left(nils):
    make.read(nils)
    say(nils, minutes=1)
    make.turn_card(nils, "madras", at=LATER, milliseconds=29_000)
    assert not planned(nils).is_spent

    make.turn_card(nils, "madras", at=LATER + dt.timedelta(seconds=2), milliseconds=1000)
    assert planned(nils, at=LATER + dt.timedelta(seconds=2)).is_spent


def test_a_round_of_whoever_set_no_minutes_is_as_long_as_ever(nils):
    make.read(nils)
    study(nils, reads.MINUTES + 1)

    assert not planned(nils).is_spent
    assert planned(nils).plan.seconds > 240


@pytest.mark.parametrize(
    ("is_paid", "says"), [(True, "paid by the house."), (False, "on your own time, as you like.")]
)
def test_done_for_today_is_said_with_a_way_to_go_on(
    visit, odalys, nils, time_machine, is_paid, says
):
    odalys.venue.study_is_paid = is_paid
    odalys.venue.save()
    make.read(nils)
    say(nils, minutes=3)
    study(nils, 3)
    time_machine.move_to(LATER, tick=False)
    nils.refresh_from_db()
    waiting = planned(nils).plan.waiting
    browser = visit(nils)

    for page in ("next_shift", "shift_cards"):
        said = text(browser.get(address(nils, page)))
        assert f"Done for today 3 minutes studied today, of 3 a day, {says}" in said
        assert f"{waiting} more cards are left over." in said
    on = address(nils, "shift_cards") + "?on=1"
    assert on in browser.get(address(nils, "next_shift")).content.decode()
    card = browser.get(on)
    assert "How do you build it?" in text(card)
    after = browser.send(on, fields(card))["Location"]
    assert after.startswith(f"{on}&left=")
    assert "How do you build it?" in text(browser.get(after))


def test_cards_are_weighed_by_what_sells_on_such_a_shift(monkeypatch, marek, nils):
    """On Fridays the till sold negronis before ten, none from then on; the next shift begins on a
    Friday, three hours before either."""
    take_in(marek, NIGHTS.decode("cp1252"))
    make.read(nils, "rocks")

    weighed = []

    def plan(*, drinks, **said):
        weighed.append({drink.slug: drink.share for drink in drinks})
        return plan_shift(drinks=drinks, **said)

    monkeypatch.setattr(reads, "plan_shift", plan)
    for hour in (15, 20):
        say(nils, starts_at=NOW.replace(hour=hour) + 6 * DAY)
        assert planned(nils).plan.cards[1].drink == "negroni"  # after the one must-know

    early, late = ({slug: share / of["daiquiri"] for slug, share in of.items()} for of in weighed)
    assert early["negroni"] > 1.5 * late["negroni"] > 1.5 * late["daiquiri"]


def stand(hire):
    return [(s.starts_at, s.minutes, s.said_by) for s in ShiftAhead.objects.of(hire).after(NOW)]


def test_several_shifts_stand_and_the_next_one_counts(nils):
    say(nils, starts_at=SATURDAY + DAY, minutes=7)
    say(nils, minutes=3)

    assert stand(nils) == [(SATURDAY, 3, nils), (SATURDAY + DAY, 7, nils)]
    assert planned(nils).shift.starts_at == SATURDAY
    assert planned(nils, at=SATURDAY).minutes == 7


def test_a_day_said_anew_takes_the_place_of_what_stood_for_it(nils):
    say(nils)
    say(nils, starts_at=SATURDAY + HOUR, minutes=4)

    assert stand(nils) == [(SATURDAY + HOUR, 4, nils)]


def test_the_day_is_the_house_s_business_day(nils):
    """A shift past midnight belongs to the night before."""
    night = dt.datetime(2026, 3, 15, 0, 30, tzinfo=nils.venue.zone)
    say(nils, starts_at=night - 4 * HOUR)
    say(nils, starts_at=night)

    assert [when for when, _, _ in stand(nils)] == [night]


def test_what_a_manager_set_is_not_written_over_by_the_hire(marek, nils):
    say(marek, nils, minutes=20)

    with pytest.raises(Refused, match="shift_set_by_another"):
        say(nils, starts_at=SATURDAY + HOUR, minutes=1)
    assert stand(nils) == [(SATURDAY, 20, marek)]
    say(nils, starts_at=SATURDAY - DAY)
    assert len(stand(nils)) == 2


def test_a_manager_writes_over_what_a_hire_said_and_another_manager_set(odalys, marek, nils):
    for by in (nils, marek, odalys):
        say(by, nils)

    say(odalys, nils, minutes=12)
    assert stand(nils) == [(SATURDAY, 12, odalys)]


def test_each_shift_is_logged_and_the_same_one_said_again_is_not(marek, nils):
    say(marek, nils)
    say(marek, nils)
    say(marek, nils, minutes=12)
    entries = LogEntry.objects.filter(kind="shift_set").order_by("number")

    code = code_of(SATURDAY)
    assert [e.facts for e in entries] == [
        {"starts": code, "minutes": 10},
        {"starts": code, "minutes": 12, "instead_of": code},
    ]
    assert {(e.by_code, e.subject_code) for e in entries} == {(marek.code, nils.code)}
    assert log.check(nils.venue) == []


def off(by, shift):
    record_shift.take_off_shift(by=by, shift=shift, at=NOW)


def test_a_shift_is_taken_off_by_who_set_it_or_fills_the_rota(marek, tamsin, nils):
    off(nils, say(nils))
    off(marek, say(nils))
    assert stand(nils) == []

    shift = say(marek, nils)
    for other in (nils, tamsin):
        with pytest.raises(Refused, match="shift_set_by_another"):
            off(other, shift)
    off(marek, shift)
    assert stand(nils) == []
    assert LogEntry.objects.filter(kind="shift_taken_off").count() == 3


def test_another_house_takes_nothing_off_here(ravna, nils):
    with pytest.raises(Refused, match="other_house"):
        off(ravna, say(nils))


def test_a_rota_is_set_whole_or_not_at_all(marek, nils, pia):
    shifts = [(pia, SATURDAY), (nils, SATURDAY), (nils, SATURDAY + DAY)]
    record_shift.set_shifts(by=marek, shifts=shifts, minutes=8, at=NOW)

    assert [len(stand(hire)) for hire in (nils, pia)] == [2, 1]
    with pytest.raises(Refused, match="shift_not_ahead"):
        record_shift.set_shifts(
            by=marek, shifts=[(pia, SATURDAY + 2 * DAY), (nils, NOW)], minutes=8, at=NOW
        )
    assert [len(stand(hire)) for hire in (nils, pia)] == [2, 1]


def test_a_shift_that_has_begun_is_not_ahead(nils):
    say(nils)

    assert planned(nils, at=SATURDAY + DAY).shift is None


def test_a_manager_says_it_for_a_hire_and_nobody_else_does(marek, tamsin, nils):
    assert say(marek, nils).said_by == marek
    with pytest.raises(Refused, match="not_your_shift"):
        say(tamsin, nils)


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ({"starts_at": NOW}, "shift_not_ahead"),
        ({"starts_at": NOW - DAY}, "shift_not_ahead"),
        ({"starts_at": NOW + 61 * DAY}, "shift_not_ahead"),
        ({"minutes": 0}, "minutes_out_of_reason"),
        ({"minutes": 61}, "minutes_out_of_reason"),
    ],
)
def test_what_makes_no_sense_is_refused(nils, said, code):
    with pytest.raises(Refused, match=code):
        say(nils, **said)


def test_another_house_says_nothing_here(ravna, nils):
    with pytest.raises(Refused, match="other_house"):
        say(ravna, nils)


def test_what_was_asked_tonight_for_saturday_rests(nils):
    make.read(nils)
    for item in make.menu_of(nils).of_module(make.module_of(nils)):
        make.turn_card(nils, item.drink.slug, at=NOW)
    say(nils)

    assert (planned(nils).plan.cards, planned(nils).plan.resting > 0) == ((), True)
    assert planned(nils, at=SATURDAY - DAY).plan.cards != ()


def test_it_is_typed_in_and_stands_on_next_shift(visit, nils, time_machine):
    time_machine.move_to(NOW, tick=False)
    browser, path = visit(nils), address(nils, "shift_when")
    assert "Say when you work next" in text(browser.get(address(nils, "next_shift")))

    sent = {**fields(browser.get(path)), "day": "2026-03-14", "hour": "18:00", "minutes": "12"}
    assert browser.send(path, sent)["Location"] == address(nils, "next_shift")

    said = text(browser.get(address(nils, "next_shift")))
    assert "Saturday" in said
    assert "12 minutes a day for study until then." in said
    assert "Saturday, March 14, 2026, 6 p.m. 12 minutes a day, said by you" in text(
        browser.get(path)
    )


def test_a_shift_is_taken_off_on_its_page(visit, marek, nils):
    say(nils)
    say(marek, nils, starts_at=SATURDAY + DAY)
    browser, path = visit(nils), address(nils, "shift_when")
    said = browser.get(path).content.decode()
    own, set_by_marek = (
        address(nils, "shift_off", shift=code_of(when)) for when in (SATURDAY, SATURDAY + DAY)
    )
    assert own in said
    assert set_by_marek not in said
    assert "said by Marek" in said

    assert "Marek has set the shift" in text(browser.send(set_by_marek, {}, follow=True))
    assert "Taken off." in text(browser.send(own, {}, follow=True))
    assert browser.send(own, {}).status_code == 404
    theirs = address(nils, "hire_shift_off", code=nils.code, shift=code_of(SATURDAY + DAY))
    page = address(nils, "hire_shift", code=nils.code)
    assert theirs in visit(marek).get(page).content.decode()
    assert visit(marek).send(theirs, {})["Location"] == page
    assert not ShiftAhead.objects.exists()


def test_a_day_that_a_manager_has_set_is_said_beside_the_day(visit, marek, nils):
    say(marek, nils)
    browser, path = visit(nils), address(nils, "shift_when")
    sent = {"day": "2026-03-12", "hour": "18:00", "minutes": "12"}

    assert "Marek has set the shift of that day." in text(browser.send(path, sent))
    assert "Set by Marek." in text(browser.get(address(nils, "next_shift")))


def test_the_page_says_what_stands_after_the_next_one_and_what_was_replaced(visit, nils):
    browser, path = visit(nils), address(nils, "shift_when")
    for day, hour in (("14", "18:00"), ("15", "18:00"), ("14", "19:00")):
        sent = {"day": f"2026-03-{day}", "hour": hour, "minutes": "12"}
        said = text(browser.send(path, sent, follow=True))

    assert "Noted, in place of what stood for that day." in said
    assert "1 more shift stands after it." in said


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"day": "2026-03-01"}, "That is not ahead of us"),
        ({"day": "soon"}, "Enter a valid date"),
        ({"minutes": "99"}, "At most 60, please."),
    ],
)
def test_what_can_t_be_is_said_beside_its_field(visit, nils, time_machine, typed, sentence):
    time_machine.move_to(NOW, tick=False)
    browser, path = visit(nils), address(nils, "shift_when")
    sent = {"day": "2026-03-14", "hour": "18:00", "minutes": "12", **typed}

    assert sentence in text(browser.send(path, sent))
    assert not ShiftAhead.objects.exists()


def test_a_manager_sets_it_from_the_record(visit, marek, nils, time_machine):
    time_machine.move_to(NOW, tick=False)
    browser, path = visit(marek), address(nils, "hire_shift", code=nils.code)
    assert path in browser.get(address(nils, "hire_record", code=nils.code)).content.decode()

    browser.send(path, {"day": "2026-03-14", "hour": "18:00", "minutes": "12"})

    assert ShiftAhead.objects.of(nils).get().said_by == marek


def turn(hire, milliseconds, at, missed=()):
    make.turn_card(hire, "madras", at=at, milliseconds=milliseconds, missed=missed)


def stability(hire):
    return {m.topic: m.stability for m in Memory.objects.of(hire)}


def test_a_slow_answer_counts_for_less_once_the_persons_pace_is_known(nils, pia):
    for hire in (nils, pia):
        for n in range(8):
            turn(hire, 3000, NOW + n * DAY)
    turn(nils, 3100, NOW + 9 * DAY)
    turn(pia, 30_000, NOW + 9 * DAY)

    usual, slow = stability(nils), stability(pia)
    assert all(slow[topic] < usual[topic] for topic in usual)


def test_what_is_slow_for_one_is_usual_for_another(nils, pia):
    for n in range(8):
        turn(nils, 3000, NOW + n * DAY)
        turn(pia, 9000, NOW + n * DAY)

    assert Habit.objects.get(hire=nils).pace("card").is_slow(9000) is True
    assert Habit.objects.get(hire=pia).pace("card").is_slow(9000) is False


def test_a_phone_that_says_no_time_changes_no_pace(nils):
    turn(nils, None, NOW)

    assert Habit.objects.get(hire=nils).pace("card").times == ()


def test_cards_set_right_what_is_stated(nils):
    """Somebody who misses what was thought to be known hears lower chances from then on."""
    turn(nils, 3000, NOW)
    for n in range(1, 6):
        turn(nils, 3000, NOW + n * DAY, missed=[Aspect.POURS])

    assert Habit.objects.get(hire=nils).stated.stated(0.8) < 0.75


def test_one_tonic_s_garnish_wrong_counts_against_every_tonic_and_right_for_it(nils):
    """The rule is the topic: one drink is evidence for all that it holds for."""
    menu = make.menu_of(nils)
    [rule] = [
        t.fingerprint
        for t in menu.by_slug["gin-tonic"].drink.topics
        if (t.rule or "").startswith("garnish:")
    ]
    assert rule in {t.fingerprint for t in menu.by_slug["vodka-tonic"].drink.topics}

    make.turn_card(nils, "gin-tonic")
    known = stability(nils)[rule]
    make.turn_card(nils, "vodka-tonic", missed=[Aspect.FINISH], at=NOW + DAY)

    assert Memory.objects.of(nils).get(topic=rule).lapses == 1
    assert stability(nils)[rule] < known


def test_the_recall_of_everybody_is_one_query_and_that_of_each(
    nils, pia, ravna, django_assert_num_queries
):
    for hire, slug in ((nils, "madras"), (pia, "gin-tonic"), (ravna, "madras")):
        make.turn_card(hire, slug)
    at = NOW + 3 * DAY

    with django_assert_num_queries(1):
        found = recalls(nils.venue, at)

    rows = Memory.objects.filter(hire__in=[nils, pia]).order_by("hire_id", "topic")
    assert [(h, t) for h, t in zip(found.hires.tolist(), found.topics, strict=True)] == [
        (m.hire_id, m.topic) for m in rows
    ]
    assert found.recall == pytest.approx([recall(m.facts(), at) for m in rows], abs=1e-12)


FROM_MEMORY = "Each chance is of having every part in your head at the shift, if you"


def test_what_a_chance_on_a_card_means_stands_where_there_is_one(visit, nils, time_machine):
    make.read(nils)
    time_machine.move_to(NOW, tick=False)
    new = text(visit(nils).get(address(nils, "next_shift")))
    for item in make.menu_of(nils, NOW).items:
        make.turn_card(nils, item.drink.slug, at=NOW)
    time_machine.move_to(NOW + 60 * DAY, tick=False)
    faded = text(visit(nils).get(address(nils, "next_shift")))

    assert "is new to you." in new
    assert FROM_MEMORY not in new
    assert "From memory you would have all of" in faded
    assert FROM_MEMORY in faded
