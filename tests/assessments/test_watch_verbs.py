"""Watching, signing off and voiding: what is refused, what counts once, what stays."""

import pytest

from assessments import record
from assessments.measures.marking import HelpLevel
from assessments.measures.memory import SOON
from assessments.models import Memory, SignOff, Void, WatchedBuild
from assessments.models.watch import MadeWith
from assessments.prints import of_build
from barcourse.people import enrol, log
from barcourse.people.models import PersonalText
from barcourse.people.reasons import Refused
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.people import hire as hire_somebody
from tests.factories.recipes import change_rules, revise

FAILING, FAULT = "top:orange-juice", "straw"


def refused(code, call, *args, **kwargs):
    with pytest.raises(Refused) as raised:
        call(*args, **kwargs)
    assert raised.value.reason.code == code


def test_a_build_is_stored_as_it_was_watched(tamsin, nils):
    build = make.watch(
        tamsin, nils, off=[FAULT], help_level=HelpLevel.PROMPTED, made_with=MadeWith.WATER,
        seconds=41, note="  Quick hands.  ",
    )  # fmt: skip

    menu = make.menu_of(tamsin)
    item = menu.by_slug["madras"]
    assert (build.hire, build.trainer, build.venue) == (nils, tamsin, tamsin.venue)
    assert (build.recipe, build.revision) == (item.recipe, item.revision)
    assert build.rules_version == menu.rules_version
    assert build.fingerprints == {a.value: f for a, f in item.drink.fingerprints.items()}
    assert [s["key"] for s in build.steps] == make.steps_of(tamsin, "madras")
    assert (build.off, build.passed) == ([FAULT], True)
    assert (build.help_level, build.made_with, build.seconds) == ("prompted", "water", 41)
    assert PersonalText.objects.get(code=build.note_code).text == "Quick hands."


@pytest.mark.parametrize(
    ("off", "passed"),
    [((), True), ((FAULT,), True), ((FAILING,), False), ((FAULT, FAILING), False)],
)
@pytest.mark.parametrize("help_level", HelpLevel)
def test_the_rules_say_whether_it_passed(tamsin, nils, off, passed, help_level):
    assert make.watch(tamsin, nils, off=off, help_level=help_level).passed is passed


def test_nobody_watches_their_own_build(tamsin):
    refused("nobody_signs_for_themselves", make.watch, tamsin, tamsin)


def test_nobody_is_watched_by_another_house(tamsin, ravna, nils):
    theirs = hire_somebody(ravna, "Bo")

    refused("other_house", make.watch, tamsin, theirs)
    refused("other_house", make.watch, ravna, nils)


def test_another_house_s_drink_is_no_drink_of_ours(tamsin, ravna, nils):
    menu = make.menu_of(ravna)
    said = {"off": (), "help_level": HelpLevel.UNPROMPTED, "at": NOW}

    refused(
        "other_house", record.watch_build, by=tamsin, hire=nils, menu=menu,
        item=menu.by_slug["madras"], **said,
    )  # fmt: skip


def test_nobody_who_has_left_is_watched(tamsin, odalys, nils):
    enrol.mark_left(by=odalys, membership=nils, at=NOW)
    nils.refresh_from_db()

    refused("has_left_already", make.watch, tamsin, nils)


def test_a_step_that_the_drink_has_not_is_refused(tamsin, nils):
    refused("drink_changed", make.watch, tamsin, nils, off=["pour:absinthe"])

    assert not WatchedBuild.objects.exists()


@pytest.mark.parametrize("change", ["recipe", "rules"])
def test_a_checklist_drawn_before_a_change_is_refused_after_it(tamsin, nils, change):
    seen = of_build(make.menu_of(tamsin).by_slug["gin-tonic"].drink)
    make.watch(tamsin, nils, "gin-tonic", seen=seen)
    if change == "recipe":
        revise(tamsin, "gin-tonic", glass="rocks", at=NOW)
    else:
        change_rules(tamsin, garnish=(), at=NOW)

    refused("drink_changed", make.watch, tamsin, nils, "gin-tonic", seen=seen, at=LATER)


def test_a_passed_build_is_signed_off_by_whoever_watched_it(tamsin, nils):
    build = make.watch(tamsin, nils, seconds=50)

    signed = record.sign_off(by=tamsin, watched=build, at=LATER)

    copied = ("hire", "trainer", "recipe", "revision", "rules_version", "fingerprints",
              "help_level", "seconds", "venue")  # fmt: skip
    assert [getattr(signed, f) for f in copied] == [getattr(build, f) for f in copied]
    assert (signed.watched, signed.at) == (build, LATER)


def test_signing_twice_is_signing_once(tamsin, nils):
    build = make.watch(tamsin, nils)

    first = record.sign_off(by=tamsin, watched=build, at=NOW)
    second = record.sign_off(by=tamsin, watched=build, at=LATER)

    assert first == second
    assert SignOff.objects.count() == 1
    assert log.check(tamsin.venue) == []


def test_a_failed_build_is_not_signed_off(tamsin, nils):
    build = make.watch(tamsin, nils, off=[FAILING])

    refused("not_passed", record.sign_off, by=tamsin, watched=build, at=LATER)


def test_only_whoever_watched_signs(tamsin, pia, odalys, nils):
    build = make.watch(tamsin, nils)

    for other in (pia, odalys):
        refused("only_who_watched_signs", record.sign_off, by=other, watched=build, at=LATER)


def test_nobody_signs_their_own_build(tamsin, pia):
    build = make.watch(tamsin, pia)

    refused("nobody_signs_for_themselves", record.sign_off, by=pia, watched=build, at=LATER)


def test_another_house_neither_signs_nor_voids(tamsin, nils, ravna):
    build = make.watch(tamsin, nils)

    refused("other_house", record.sign_off, by=ravna, watched=build, at=LATER)
    refused("other_house", record.void_build, by=ravna, watched=build, reason="no", at=LATER)


def test_a_void_needs_a_reason(tamsin, nils):
    build = make.watch(tamsin, nils)

    refused("void_needs_reason", record.void_build, by=tamsin, watched=build, reason=" ", at=NOW)

    assert not Void.objects.exists()


def test_a_void_deletes_nothing_and_keeps_its_reason_in_words(tamsin, pia, nils):
    build = make.sign_off(tamsin, nils).watched

    void = record.void_build(by=pia, watched=build, reason=" Wrong hire. ", at=LATER)

    assert (void.by, void.hire, void.at) == (pia, nils, LATER)
    assert PersonalText.objects.get(code=void.reason_code).text == "Wrong hire."
    assert SignOff.objects.get().watched == build


def test_a_build_is_voided_once(tamsin, nils):
    build = make.watch(tamsin, nils)
    record.void_build(by=tamsin, watched=build, reason="no", at=NOW)

    refused("voided_already", record.void_build, by=tamsin, watched=build, reason="no", at=LATER)


def test_a_voided_build_is_not_signed_off(tamsin, nils):
    build = make.watch(tamsin, nils)
    record.void_build(by=tamsin, watched=build, reason="no", at=NOW)

    refused("voided_already", record.sign_off, by=tamsin, watched=build, at=LATER)


def test_nobody_voids_their_own_record(tamsin, pia):
    build = make.watch(tamsin, pia)

    refused("nobody_voids_their_own", record.void_build, by=pia, watched=build, reason="x", at=NOW)


def remembered(hire):
    """Aspects of a madras of which every topic came out right; a wrong one is due at once."""
    topics = make.menu_of(hire).by_slug["madras"].drink.topics
    right = {m.topic for m in Memory.objects.of(hire) if m.due > m.last + SOON}
    wrong = {m.topic for m in Memory.objects.of(hire) if m.due == m.last + SOON}
    assert right | wrong == {t.fingerprint for t in topics}
    return {t.aspect.value for t in topics} - {
        t.aspect.value for t in topics if t.fingerprint in wrong
    }


def test_an_unprompted_build_is_a_review_of_its_topics(tamsin, nils):
    make.watch(tamsin, nils, off=[FAULT, FAILING])

    assert remembered(nils) == {"glass", "pours", "method"}


def test_conduct_says_nothing_about_the_drink(tamsin, nils):
    make.watch(tamsin, nils, off=["conduct:age", FAULT])

    assert remembered(nils) == {"glass", "pours", "method", "mixers"}


def test_who_made_another_drink_has_shown_nothing_right(tamsin, nils):
    make.watch(tamsin, nils, off=["conduct:right_drink"])

    assert remembered(nils) == set()


def test_a_clean_build_is_right_in_every_aspect(tamsin, nils):
    make.watch(tamsin, nils)

    assert remembered(nils) == {"glass", "pours", "method", "mixers", "finish"}


@pytest.mark.parametrize("help_level", [HelpLevel.SHOWN, HelpLevel.PROMPTED])
def test_with_help_nobody_remembers_by_themselves(tamsin, nils, help_level):
    make.watch(tamsin, nils, help_level=help_level)

    assert not Memory.objects.exists()
