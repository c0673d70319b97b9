"""Marks in service, pours, pace and rounds: what is refused, what is kept, what the log says."""

import inspect

import pytest

from assessments import checklist, record, record_practical
from assessments.measures.density import spirit_density
from assessments.measures.marking import HelpLevel
from assessments.measures.memory import SOON
from assessments.measures.pace_check import Error
from assessments.models import MeasuredPours, Memory, PourCheck, SpotMark, Void, WatchedBuild
from assessments.models.practical import Came
from assessments.models.watch import MadeWith
from assessments.prints import of_build
from barcourse.people import enrol, log
from barcourse.people.models import LogEntry, PersonalText
from barcourse.people.reasons import Refused
from recipes.grammar.rules import MeasuredBy
from recipes.grammar.units import US_FLOZ_ML
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import LATER, NOW
from tests.factories.recipes import change_rules, revise
from tests.grammar import kitchen


def refused(code, call, *args, **kwargs):
    with pytest.raises(Refused) as raised:
        call(*args, **kwargs)
    assert raised.value.reason.code == code


def take_back(trainer, hire):
    record_practical.take_back(by=trainer, watched=make.watch(trainer, hire), at=NOW)


VERBS = {
    "mark_spot": (hands.spot, ["spot_marked"]),
    "check_pours": (hands.pour, ["pours_checked"]),
    "check_pace": (hands.pace, ["pace_checked"]),
    "watch_round": (
        lambda t, h: hands.make_round(t, h, "madras", "gin-tonic"),
        ["build_watched", "build_watched", "round_watched"],
    ),
    "take_back": (take_back, ["build_watched", "build_taken_back"]),
}


def public_verbs():
    return {
        name: function
        for name, function in inspect.getmembers(record_practical, inspect.isfunction)
        if function.__module__ == record_practical.__name__ and name != "in_ml"
    }


def test_every_verb_is_in_the_table():
    assert set(public_verbs()) == set(VERBS)


@pytest.mark.parametrize("name", VERBS)
def test_it_takes_its_arguments_by_name_and_is_told_who_and_when(name):
    parameters = inspect.signature(public_verbs()[name]).parameters

    assert all(p.kind is p.KEYWORD_ONLY for p in parameters.values())
    assert {"by", "at"} <= set(parameters)


@pytest.mark.parametrize("name", VERBS)
def test_each_writes_its_entries_about_the_hire_and_the_log_stays_whole(tamsin, nils, name):
    call, kinds = VERBS[name]
    head = log.head(tamsin.venue).number

    call(tamsin, nils)

    entries = list(LogEntry.objects.filter(number__gt=head).order_by("number"))
    assert [e.kind for e in entries] == kinds
    assert {(e.by_code, e.subject_code) for e in entries} == {(tamsin.code, nils.code)}
    assert log.check(tamsin.venue) == []


OF_A_HIRE = {n: VERBS[n][0] for n in ("mark_spot", "check_pours", "check_pace", "watch_round")}
each = pytest.mark.parametrize("call", OF_A_HIRE.values(), ids=OF_A_HIRE)


@each
def test_nobody_marks_themselves(tamsin, call):
    refused("nobody_signs_for_themselves", call, tamsin, tamsin)


@each
def test_nobody_is_marked_by_another_house(ravna, nils, call):
    refused("other_house", call, ravna, nils)


@each
def test_nobody_who_has_left_is_marked(odalys, tamsin, nils, call):
    enrol.mark_left(by=odalys, membership=nils, at=NOW)
    nils.refresh_from_db()

    refused("has_left_already", call, tamsin, nils)


def remembered(hire):
    """Topics of a madras, by whether they are due at once."""
    return {m.topic: m.due > m.last + SOON for m in Memory.objects.of(hire)}


def test_a_right_drink_in_service_is_a_review_of_all_of_it(tamsin, nils):
    hands.spot(tamsin, nils)

    topics = make.menu_of(nils).by_slug["madras"].drink.topics
    assert remembered(nils) == {t.fingerprint: True for t in topics}


@pytest.mark.parametrize("came", [Came.MENDED, Came.WRONG])
def test_one_that_was_not_right_brings_its_own_part_back_and_spares_the_rules(tamsin, nils, came):
    hands.spot(tamsin, nils, came=came)

    topics = make.menu_of(nils).by_slug["madras"].drink.topics
    assert remembered(nils) == {t.fingerprint: False for t in topics if t.recipe}
    assert any(t.rule for t in topics)


def test_a_mark_keeps_what_the_drink_was(tamsin, nils):
    mark = hands.spot(tamsin, nils, came=Came.MENDED, sent_back=True)

    item = make.menu_of(nils).by_slug["madras"]
    assert (mark.recipe, mark.revision, mark.came) == (item.recipe, item.revision, "mended")
    assert mark.fingerprints == {a.value: f for a, f in item.drink.fingerprints.items()}
    assert mark.sent_back


def test_a_mark_on_a_drink_changed_meanwhile_is_refused(tamsin, nils):
    seen = of_build(make.menu_of(tamsin).by_slug["madras"].drink)
    revise(tamsin, "madras", glass="rocks", at=NOW)

    refused("drink_changed", hands.spot, tamsin, nils, seen=seen, at=LATER)
    assert not SpotMark.objects.exists()


def test_pours_are_held_against_the_house_s_pour_of_that_kind(tamsin, nils):
    check = hands.pour(tamsin, nils)

    rules = make.menu_of(tamsin).rules
    assert check.target_ml == pytest.approx(US_FLOZ_ML)
    assert check.tolerance_ml == pytest.approx(rules.tolerance_ml)
    assert check.measured_by == rules.pours["spirit"].measured_by
    assert check.pours_ml == pytest.approx([29.574, 30.165, 28.686, 31.052, 29.574], abs=0.001)
    assert (check.passed, check.weighed, check.density) == (True, False, None)


def test_two_pours_at_once_are_held_against_two(tamsin, nils):
    check = hands.pour(tamsin, nils, (2.0,) * 5, pours=2)

    assert check.target_ml == pytest.approx(2 * US_FLOZ_ML)
    assert check.passed


def test_grams_become_millilitres_by_what_is_poured(tamsin, nils):
    spirit = hands.pour(tamsin, nils, (28.0,) * 5, unit="g")
    water = hands.pour(tamsin, nils, (28.0,) * 5, unit="g", made_with=MadeWith.WATER)

    pantry = make.menu_of(tamsin).pantry
    density = pantry["gin"].density or spirit_density(pantry["gin"].abv)
    assert spirit.pours_ml[0] == pytest.approx(28 / density, abs=0.006)
    assert water.pours_ml[0] == pytest.approx(28 / 0.9982, abs=0.006)


def test_too_few_pours_say_nothing(tamsin, nils):
    assert hands.pour(tamsin, nils, (1.0,) * 4).passed is None


def test_a_stamped_measure_is_never_under(tamsin, nils):
    pours = kitchen.RULES.model_dump()["pours"]
    stamped = {k: {**v, "measured_by": MeasuredBy.STAMPED} for k, v in pours.items()}
    change_rules(tamsin, pours=stamped, at=NOW)

    assert hands.pour(tamsin, nils, (1.0, 1.0, 1.0, 1.0, 0.97), at=LATER).passed is False
    assert hands.pour(tamsin, nils, (1.0, 1.0, 1.0, 1.0, 1.05), at=LATER).passed is True


@pytest.mark.parametrize("amounts", [(), (-1.0,) * 5, (float("nan"),) * 5, (1.0,) * 300])
def test_pours_that_nobody_can_have_poured_are_refused(tamsin, nils, amounts):
    refused("pours_impossible", hands.pour, tamsin, nils, amounts)
    assert not PourCheck.objects.exists()


def test_what_has_no_house_pour_is_refused(tamsin, nils):
    refused("no_house_pour", hands.pour, tamsin, nils, bottle="salt")


def test_a_pace_keeps_its_ticket_and_its_errors(tamsin, nils):
    check = hands.pace(tamsin, nils, errors={Error.FINISH: 2, Error.AGE: 0})

    assert check.ticket == hands.ticket(tamsin).to_json()
    assert (check.seed, check.seconds, check.errors) == (3, 600, {"finish": 2})


def test_the_same_seed_is_the_same_ticket_and_another_is_another(tamsin):
    assert hands.ticket(tamsin).orders == hands.ticket(tamsin).orders
    assert hands.ticket(tamsin).orders != hands.ticket(tamsin, seed=4).orders


@pytest.mark.parametrize(("seconds", "errors"), [(0, {}), (60, {Error.ICE: -1})])
def test_a_pace_that_cannot_be_is_refused(tamsin, nils, seconds, errors):
    refused("pace_impossible", hands.pace, tamsin, nils, seconds=seconds, errors=errors)


def test_a_ticket_that_was_not_on_the_screen_is_refused(tamsin, nils):
    timed = record_practical.Timed(seconds=60, errors={})
    refused(
        "ticket_changed", record_practical.check_pace, by=tamsin, hire=nils,
        menu=make.menu_of(tamsin), drawn=hands.ticket(tamsin), timed=timed, at=NOW,
        seen=hands.ticket(tamsin, seed=4).print_,
    )  # fmt: skip


def test_a_round_is_a_build_of_each_drink_and_the_order(tamsin, nils):
    made = hands.make_round(tamsin, nils, "madras", "gin-tonic", picked_up_again=1)

    builds = [WatchedBuild.objects.get(code=code) for code in made.builds]
    assert [b.recipe.slug for b in builds] == ["madras", "gin-tonic"]
    assert len(made.done) == len(made.steps)
    assert made.picked_up_again == 1


def test_a_round_done_in_other_steps_than_its_own_is_refused(tamsin, nils):
    refused("round_changed", hands.make_round, tamsin, nils, "madras", done=["glass::0"])
    assert not WatchedBuild.objects.exists()


def first_pour(member, slug="madras"):
    spec = make.menu_of(member).by_slug[slug].drink.spec
    return next(iter(checklist.measurable(spec).items()))


@pytest.mark.parametrize(
    ("more", "passed"),
    [(0.0, True), (0.12, True), (0.13, False), (-0.12, True), (-0.13, False)],
)
def test_a_measured_pour_is_off_outside_the_house_s_tolerance(tamsin, nils, more, passed):
    """An eighth of a fluid ounce either way."""
    key, part = first_pour(tamsin)
    ml = part.ml + more * US_FLOZ_ML

    build = make.watch(tamsin, nils, measured={key: ml})

    assert build.passed is passed
    assert build.off == ([] if passed else [key])
    assert build.measured.pours == {key: [29.574, round(ml, 3)]}
    assert log.check(tamsin.venue) == []


def test_what_cannot_be_measured_is_not_kept(tamsin, nils):
    make.watch(tamsin, nils, measured={"straw": 3.0, "pour:absinthe": 1.0})

    assert not MeasuredPours.objects.exists()


def test_a_slip_of_the_thumb_is_taken_back_until_it_is_signed(tamsin, pia, nils):
    build = make.watch(tamsin, nils)
    signed = make.sign_off(tamsin, nils)

    refused(
        "only_who_watched_takes_back", record_practical.take_back, by=pia, watched=build, at=NOW
    )
    refused("signed_already", record_practical.take_back, by=tamsin, watched=signed.watched, at=NOW)
    void = record_practical.take_back(by=tamsin, watched=build, at=NOW)
    assert "slip of the thumb" in PersonalText.objects.get(code=void.reason_code).text
    refused("voided_already", record_practical.take_back, by=tamsin, watched=build, at=NOW)
    assert Void.objects.count() == 1


def test_a_taken_back_build_is_not_signed(tamsin, nils):
    build = make.watch(tamsin, nils, help_level=HelpLevel.UNPROMPTED)
    record_practical.take_back(by=tamsin, watched=build, at=NOW)

    refused("voided_already", record.sign_off, by=tamsin, watched=build, at=NOW)


def test_a_stamped_ounce_poured_to_the_line_is_not_short(tamsin, nils):
    pours = kitchen.RULES.model_dump()["pours"]
    stamped = {k: {**v, "measured_by": MeasuredBy.STAMPED} for k, v in pours.items()}
    change_rules(tamsin, pours=stamped, at=NOW)

    build = make.watch(tamsin, nils, measured={"pour:vodka": US_FLOZ_ML}, at=LATER)
    assert build.passed
    assert not make.watch(tamsin, nils, measured={"pour:vodka": 29.5}, at=LATER).passed
