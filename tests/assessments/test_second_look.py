"""What others say to a record, and what waits for a manager's word."""

import datetime as dt

import pytest
import time_machine
from django.urls import reverse

from assessments import handing_over, record, record_second, to_look_at
from assessments.measures.marking import RIGHT_DRINK, HelpLevel
from assessments.models import HandedOver, MarksSeen, PlanDecided, Reply, SecondMark, Settled
from barcourse.people import enrol, log
from barcourse.people.models import LogEntry, PersonalText
from barcourse.people.reasons import Refused
from barcourse.people.sealed import SealedError
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories import people
from tests.factories.assessments import LATER, NOW

HOUSE = "harbour-lights"
WRONG = (RIGHT_DRINK.key,)


def answer(hire, watched, **more):
    said = {"words": "It was the other glass.", "disagrees": True, "at": LATER, **more}
    return record_second.answer_record(by=hire, watched=watched, **said)


def test_a_hire_sees_a_build_at_once_and_answers_it(visit, tamsin, nils):
    watched = make.watch(tamsin, nils, note="Slow with the ice.")
    page, browser = reverse("my_build", args=[HOUSE, watched.code]), visit(nils)
    with time_machine.travel(LATER, tick=False):
        assert "Slow with the ice." in browser.get(page).content.decode()
        sent = {"words": "The bin was empty.", "disagrees": "yes"}
        browser.send(reverse("answer_build", args=[HOUSE, watched.code]), sent)
        shown = browser.get(page).content.decode()

    assert "The bin was empty." in shown
    assert "A manager looks at it." in shown
    assert "It was" not in "".join(map(str, vars(Reply.objects.get()).values()))
    assert log.check(nils.venue) == []


@pytest.mark.parametrize("words", ["", "  ", "\x00", "x" * 501])
def test_an_answer_without_words_is_none(visit, tamsin, nils, words):
    watched = make.watch(tamsin, nils)
    path = reverse("answer_build", args=[HOUSE, watched.code])

    visit(nils).send(path, {"words": words})

    assert not Reply.objects.exists()


def test_one_answers_once_and_only_about_oneself(tamsin, pia, nils, odalys):
    watched = make.watch(tamsin, nils)
    other = people.hire(odalys, "Edda")
    with pytest.raises(Refused, match="not_your_record"):
        answer(other, watched)
    answer(nils, watched)
    with pytest.raises(Refused, match="answered_already"):
        answer(nils, watched)


def test_only_a_disagreement_waits_for_a_manager(tamsin, nils, marek):
    agreed, not_agreed = make.watch(tamsin, nils), make.watch(tamsin, nils, "bay-breeze")
    answer(nils, agreed, disagrees=False)
    row = answer(nils, not_agreed)

    [waiting] = to_look_at.disagreements(nils.venue)

    assert (waiting.reply, waiting.words) == (row, "It was the other glass.")
    record_second.let_stand(by=marek, reply=row, at=LATER)
    assert to_look_at.disagreements(nils.venue) == []
    with pytest.raises(Refused, match="settled_already"):
        record_second.let_stand(by=marek, reply=row, at=LATER)


def test_a_managers_void_settles_it_too(tamsin, marek, nils):
    row = answer(nils, make.watch(tamsin, nils))
    record.void_build(by=marek, watched=row.watched, reason="He is right.", at=LATER)

    assert to_look_at.disagreements(nils.venue) == []


def test_nobody_settles_about_what_they_watched(marek, nils, ravna):
    row = answer(nils, make.watch(marek, nils))
    for by, code in ((marek, "somebody_else_settles"), (ravna, "other_house")):
        with pytest.raises(Refused, match=code):
            record_second.let_stand(by=by, reply=row, at=LATER)


def test_the_words_of_an_answer_can_be_erased_and_the_log_stays_whole(tamsin, nils, odalys):
    row = answer(nils, make.watch(tamsin, nils))
    text = PersonalText.objects.get(code=row.text_code)
    enrol.erase_text(by=odalys, text=text, at=LATER)

    assert to_look_at.reply_to(row.watched).words == ""
    assert log.check(nils.venue) == []


class TestSecondMarks:
    def test_a_second_trainer_marks_without_seeing_the_first(self, visit, tamsin, pia, nils):
        off = make.steps_of(tamsin, "madras")[0]
        watched = make.watch(tamsin, nils, off=(off,))
        path = reverse("mark_too", args=[HOUSE, watched.code])
        with time_machine.travel(LATER, tick=False):
            page = visit(pia).get(path).content.decode()
            assert visit(pia).send(path, {"off": [off]}).status_code == 302

        assert " checked" not in page
        assert (SecondMark.objects.get().by, SecondMark.objects.get().off) == (pia, [off])
        assert log.check(nils.venue) == []

    def test_the_first_marks_stay_hidden_until_one_gave_ones_own(
        self, visit, tamsin, pia, marek, nils
    ):
        off = make.steps_of(tamsin, "madras")[0]
        watched = make.watch(tamsin, nils, off=(off,), note="Slow with the ice.")
        page = reverse("build", args=[HOUSE, watched.code])
        hidden, told = "The marks are hidden", "Slow with the ice."
        with time_machine.travel(LATER, tick=False):
            before = {m: visit(m).get(page).content.decode() for m in (tamsin, pia, marek)}
            visit(pia).send(reverse("mark_too", args=[HOUSE, watched.code]), {"off": []})
            after = visit(pia).get(page).content.decode()

        assert {m: (hidden in shown, told in shown) for m, shown in before.items()} == {
            tamsin: (False, True), pia: (True, False), marek: (True, False),
        }  # fmt: skip
        assert (hidden in after, told in after) == (False, True)

    def test_whoever_opened_them_cannot_be_the_second(self, visit, tamsin, pia, marek, nils):
        watched = make.watch(tamsin, nils, note="Slow with the ice.")
        page = reverse("build", args=[HOUSE, watched.code])
        with time_machine.travel(LATER, tick=False):
            browser = visit(pia)
            for _twice in range(2):
                browser.send(reverse("see_marks", args=[HOUSE, watched.code]))
            shown = browser.get(page).content.decode()

        assert "Slow with the ice." in shown
        assert MarksSeen.objects.get().by == pia
        assert to_look_at.for_a_second_look(pia, LATER, record_second.SECOND_WITHIN) == []
        with pytest.raises(Refused, match="second_has_seen"):
            record_second.mark_too(by=pia, watched=watched, off=(), at=LATER)
        record_second.mark_too(by=marek, watched=watched, off=(), at=LATER)
        assert log.check(nils.venue) == []

    def test_the_marks_of_an_older_build_are_nobodys_secret(self, visit, tamsin, pia, nils):
        watched = make.watch(tamsin, nils)
        with time_machine.travel(NOW + record_second.SECOND_WITHIN, tick=False):
            shown = visit(pia).get(reverse("build", args=[HOUSE, watched.code])).content.decode()

        assert "The marks are hidden" not in shown

    def test_not_by_the_first_not_late_not_twice_and_no_made_up_step(self, tamsin, pia, nils):
        watched = make.watch(tamsin, nils)

        def mark(by=pia, off=(), at=LATER):
            return record_second.mark_too(by=by, watched=watched, off=off, at=at)

        for by, code in ((tamsin, "second_is_another"), (nils, "second_is_another")):
            with pytest.raises(Refused, match=code):
                mark(by=by)
        with pytest.raises(Refused, match="no_such_choice"):
            mark(off=("made-up",))
        with pytest.raises(Refused, match="second_too_late"):
            mark(at=NOW + record_second.SECOND_WITHIN + dt.timedelta(seconds=1))
        mark()
        with pytest.raises(Refused, match="second_there_already"):
            mark()

    def test_their_agreement_is_reckoned_over_every_step(self, tamsin, pia, nils):
        first, other = make.steps_of(tamsin, "madras")[:2]
        watched = make.watch(tamsin, nils, off=(first, other))
        record_second.mark_too(by=pia, watched=watched, off=(first,), at=LATER)

        found = to_look_at.pairs(nils.venue, LATER)

        steps = len(watched.steps)
        assert (found.builds, found.found.steps, found.due) == (1, steps, False)
        assert found.found.same == pytest.approx((steps - 1) / steps)
        assert 0 < found.found.kappa < 1
        assert found.found.is_few
        assert to_look_at.pairs(nils.venue, LATER + dt.timedelta(days=32)).due

    def test_what_can_be_marked_is_of_this_shift_and_others(self, tamsin, pia, nils):
        watched = make.watch(tamsin, nils)
        within = record_second.SECOND_WITHIN

        assert to_look_at.for_a_second_look(pia, LATER, within) == [watched]
        assert to_look_at.for_a_second_look(tamsin, LATER, within) == []
        assert to_look_at.for_a_second_look(pia, NOW + within, within) == []


class TestStuck:
    def fail(self, tamsin, nils, times, **said):
        for number in range(times):
            at = NOW + dt.timedelta(minutes=number)
            make.watch(tamsin, nils, off=WRONG, at=at, **said)

    @pytest.mark.parametrize(("times", "stuck"), [(2, False), (3, True)])
    def test_three_fails_running_are_shown(self, tamsin, nils, times, stuck):
        self.fail(tamsin, nils, times)

        found = to_look_at.stuck_hires(nils.venue, LATER)

        assert [(s.hire, s.recipe.slug, len(s.tries)) for s in found] == (
            [(nils, "madras", 3)] if stuck else []
        )

    def test_a_voided_fail_does_not_count_and_a_pass_ends_it(self, tamsin, pia, nils):
        self.fail(tamsin, nils, 3)
        last = to_look_at.stuck_hires(nils.venue, LATER)[0].tries[-1]
        record.void_build(by=pia, watched=last, reason="Not his.", at=LATER)
        assert to_look_at.stuck_hires(nils.venue, LATER) == []
        self.fail(tamsin, nils, 3)
        make.watch(tamsin, nils, at=LATER)

        assert to_look_at.stuck_hires(nils.venue, LATER) == []

    def test_a_person_decides_and_it_is_on_record(self, visit, marek, tamsin, nils):
        self.fail(tamsin, nils, 3, help_level=HelpLevel.SHOWN)
        with time_machine.travel(LATER, tick=False):
            page = visit(marek).get(reverse("to_look_at", args=[HOUSE])).content.decode()
            assert "Proposed: practise the one step alone" in page
            path = reverse("decide_plan", args=[HOUSE, nils.code, "madras"])
            visit(marek).send(path, {"plan": "study"})
            after = visit(marek).get(reverse("to_look_at", args=[HOUSE])).content.decode()

            for member, name, parts in (
                (nils, "next_shift", []), (nils, "my_record", []),
                (tamsin, "hire_record", [nils.code]), (tamsin, "watch_hire", [nils.code]),
            ):  # fmt: skip
                told = visit(member).get(reverse(name, args=[HOUSE, *parts])).content.decode()
                assert "cards and a quiz on the drink first" in told
                assert "decided by Marek" in told
        assert to_look_at.plans_of(nils, LATER)
        make.watch(tamsin, nils, off=WRONG, at=LATER + dt.timedelta(minutes=1))
        assert to_look_at.plans_of(nils, LATER + dt.timedelta(minutes=2)) == []
        assert PlanDecided.objects.get().plan == "study"
        assert "Decided by Marek: cards and a quiz on the drink first." in after
        assert "Decide otherwise" in after
        assert "Decide otherwise" not in page
        assert 'name="plan"' in page
        assert " checked" not in page  # a person decides, not the page
        assert LogEntry.objects.filter(kind="plan_decided", subject_code=nils.code).exists()
        assert log.check(nils.venue) == []

    def test_nobody_decides_about_themselves_and_nonsense_is_no_plan(self, visit, marek, nils):
        menu = make.menu_of(nils)
        recipe = menu.by_slug["madras"].recipe
        with pytest.raises(Refused, match="somebody_else_settles"):
            record_second.decide_plan(by=nils, hire=nils, recipe=recipe, plan="show", at=LATER)
        visit(marek).send(reverse("decide_plan", args=[HOUSE, nils.code, "madras"]), {"plan": "x"})
        assert not PlanDecided.objects.exists()

    def test_whoever_decides_from_an_older_page_reads_what_was_decided(
        self, visit, odalys, marek, tamsin, nils
    ):
        for _ in range(3):
            make.watch(tamsin, nils, off=WRONG)
        path = address(marek, "decide_plan", hire=nils.code, drink="madras")
        with time_machine.travel(LATER, tick=False):
            visit(marek).send(path, {"plan": "show", "seen": ""})
            late = text(visit(odalys).send(path, {"plan": "study", "seen": ""}, follow=True))
            newest = str(PlanDecided.objects.get().pk)
            visit(odalys).send(path, {"plan": "study", "seen": newest})

        assert "Marek has decided meanwhile" in late
        assert "Decided by Marek" in late
        assert list(PlanDecided.objects.order_by("pk").values_list("plan", flat=True)) == [
            "show", "study",
        ]  # fmt: skip


class TestHowTrainersMark:
    def test_a_pass_that_another_trainer_saw_fail_soon_after_speaks_against_it(
        self, tamsin, pia, nils
    ):
        make.watch(tamsin, nils)
        make.watch(pia, nils, off=WRONG, at=NOW + dt.timedelta(days=3))
        make.watch(tamsin, nils, "bay-breeze")
        make.watch(pia, nils, "bay-breeze", off=WRONG, at=NOW + dt.timedelta(days=20))

        found = {t.trainer: t for t in to_look_at.trainers(nils.venue, NOW + dt.timedelta(days=21))}

        assert (found[tamsin].contradicted.hits, found[tamsin].contradicted.of) == (1, 1)
        low, high = found[tamsin].contradicted.interval
        assert (low, high) == (3, 100)  # one of one: 0.025 to 1, nearly everything
        assert found[tamsin].passed.is_few

    @pytest.mark.parametrize(
        ("own", "others", "flagged"),
        [
            ([True] * 15, [True, False] * 8, True),
            ([True] * 14, [True, False] * 8, False),  # too few to say
            ([True] * 15, [True] * 29 + [False], False),  # the others' hires pass as well
            ([True] * 15, [True, False] * 7, False),  # too few others
            ([True] * 20 + [False], [True, False] * 8, False),
        ],
    )
    def test_passing_everything_shows_where_chance_makes_it_unlikely(self, own, others, flagged):
        assert to_look_at.passes_everything(own, others) is flagged


class TestHandedOver:
    def test_what_a_trainer_who_left_never_signed_goes_to_another(
        self, odalys, marek, tamsin, pia, nils
    ):
        watched = make.watch(tamsin, nils)
        make.sign_off(tamsin, nils, "bay-breeze")
        assert handing_over.left_open(nils.venue, LATER) == []
        enrol.mark_left(by=odalys, membership=tamsin, at=LATER)

        assert handing_over.left_open(nils.venue, LATER) == [watched]
        record_second.hand_over(by=marek, watched=watched, to=pia, at=LATER)

        assert handing_over.left_open(nils.venue, LATER) == []
        assert handing_over.taken_over(pia, LATER) == [watched]
        assert handing_over.handed_over(watched).to == pia
        make.sign_off(pia, nils, at=LATER)  # she has seen it herself
        assert handing_over.taken_over(pia, LATER) == []
        assert log.check(nils.venue) == []

    def test_all_of_one_trainer_at_once_and_it_waits_under_watch_for_the_other(
        self, visit, odalys, marek, tamsin, pia, nils
    ):
        left = [make.watch(tamsin, nils, slug) for slug in ("madras", "bay-breeze", "gin-tonic")]
        path = reverse("hand_over", args=[HOUSE, tamsin.code])
        with time_machine.travel(LATER, tick=False):
            enrol.mark_left(by=odalys, membership=tamsin, at=LATER)
            asked = visit(odalys).get(reverse("person", args=[HOUSE, tamsin.code]))
            manager = visit(marek)
            page = manager.get(reverse("to_look_at", args=[HOUSE])).content.decode()
            none = manager.send(path, {"to": pia.code}, follow=True).content.decode()
            manager.send(path, {"to": pia.code, "build": [b.code for b in left[:2]]})
            watch = visit(pia).get(reverse("watch", args=[HOUSE])).content.decode()
            build = visit(pia).get(reverse("build", args=[HOUSE, left[0].code])).content.decode()

        assert reverse("to_look_at", args=[HOUSE]) in asked.content.decode()
        assert "3 builds left open" in page
        assert "Tick at least one build that is still open." in none
        assert "Handed over to you: 2 builds" in watch
        assert "Handed over to you, since Tamsin has left." in build
        assert "handed over by Marek" in build
        assert handing_over.left_open(nils.venue, LATER) == left[2:]
        assert log.check(nils.venue) == []

    def test_not_while_the_trainer_is_here_and_only_to_somebody_who_watches(
        self, odalys, marek, tamsin, pia, nils
    ):
        watched = make.watch(tamsin, nils)

        def give(to=pia):
            return record_second.hand_over(by=marek, watched=watched, to=to, at=LATER)

        with pytest.raises(Refused, match="trainer_is_here"):
            give()
        enrol.mark_left(by=odalys, membership=tamsin, at=LATER)
        for nobody in (nils, tamsin):
            with pytest.raises(Refused, match="nobody_to_watch"):
                give(to=nobody)
        give()
        with pytest.raises(Refused, match="handed_over_already"):
            give()


def test_none_of_these_rows_is_ever_changed(odalys, marek, tamsin, pia, nils):
    row = answer(nils, make.watch(tamsin, nils))
    record_second.let_stand(by=marek, reply=row, at=LATER)
    record_second.mark_too(by=pia, watched=row.watched, off=(), at=LATER)
    recipe = row.watched.recipe
    record_second.decide_plan(by=marek, hire=nils, recipe=recipe, plan="show", at=LATER)
    open_one = make.watch(tamsin, nils)
    enrol.mark_left(by=odalys, membership=tamsin, at=LATER)
    record_second.hand_over(by=marek, watched=open_one, to=pia, at=LATER)

    for model in (Reply, Settled, SecondMark, PlanDecided, HandedOver):
        with pytest.raises(SealedError):
            model.objects.get().save()
    assert log.check(nils.venue) == []


def test_what_waits_for_a_second_look_is_not_told_in_lists(visit, tamsin, pia, nils):
    watched = make.watch(tamsin, nils, note="Forgot the lime.")
    page = address(pia, "hire_record", code=nils.code)
    before = text(visit(pia).get(page))
    assert "waits for a second look" in before
    assert "Forgot the lime." not in before
    assert "Forgot the lime." in text(
        visit(tamsin).get(address(tamsin, "hire_record", code=nils.code))
    )
    assert "Forgot the lime." in text(visit(nils).get(address(nils, "my_record")))

    visit(pia).send(address(pia, "mark_too", code=watched.code), {})

    after = text(visit(pia).get(page))
    assert "waits for a second look" not in after
    assert "Forgot the lime." in after
