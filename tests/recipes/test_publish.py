"""The verbs that change what the house serves."""

import datetime as dt
import inspect

import pytest
from django.db import DatabaseError, transaction

from barcourse.people import log
from barcourse.people.models import LogEntry
from barcourse.people.sealed import SealedError
from barcourse.people.signals import house_opened
from recipes import publish
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.rules import GlassRule, LiquorClass, PourRule
from recipes.menu import menu_at
from recipes.models import Module, Recipe, Revision, RulesVersion
from recipes.publish import OnMenu
from recipes.shipped import load_into_new_house
from tests.factories.people import OPENED, open_house
from tests.factories.recipes import DAY, change_rules, recipe, revise, small_course
from tests.grammar import kitchen

HOUR = dt.timedelta(hours=1)
NOW = OPENED + DAY
THURSDAY = OPENED + 7 * DAY
SMALL_GLASSES = kitchen.RULES.glasses | {"highball": GlassRule(name="Thimble", amount=2)}


def codes(refused: pytest.ExceptionInfo[CannotBuild]) -> list[str]:
    return [reason.code for reason in refused.value.reasons]


# Revisions


def test_a_revision_is_numbered_and_counts_at_once(tamsin):
    second = revise(tamsin, "madras", glass="rocks")
    third = revise(tamsin, "madras", glass="pint")

    assert (second.number, third.number) == (2, 3)
    assert second.takes_effect_at == second.published_at == NOW
    assert menu_at(tamsin.venue, NOW).by_slug["madras"].drink.spec.glass == "pint"


def test_a_revision_counts_from_its_date_and_hour(tamsin):
    revise(tamsin, "madras", glass="rocks", takes_effect_at=THURSDAY)

    def glass(at: dt.datetime) -> str:
        return menu_at(tamsin.venue, at).by_slug["madras"].drink.spec.glass

    assert glass(THURSDAY - dt.timedelta(microseconds=1)) == "highball"
    assert glass(THURSDAY) == "rocks"


def test_a_revision_is_never_changed(tamsin):
    revision = revise(tamsin, "madras", glass="rocks")
    revision.spec = {}

    with pytest.raises(SealedError):
        revision.save()


def test_a_revision_is_stored_in_full(tamsin):
    """So that a default that changes one day doesn't change what was published."""
    revision = revise(tamsin, "madras", glass="rocks")

    assert revision.spec["parts"][0] == {
        "ingredient": "vodka", "how": "measured", "amount": 1.0, "unit": "pour", "share": 1.0,
    }  # fmt: skip
    assert revision.spec["straw"] is None


def test_why_a_drink_cannot_be_built_comes_through(tamsin):
    with pytest.raises(CannotBuild) as refused:
        revise(tamsin, "madras", parts=[{"ingredient": "vodka", "amount": 9}])

    assert codes(refused) == ["over_full"]
    assert recipe(tamsin, "madras").revisions.count() == 1


def test_what_is_no_recipe_at_all_is_refused(tamsin):
    with pytest.raises(CannotBuild) as refused:
        revise(tamsin, "madras", parts=[])

    assert codes(refused) == ["no_parts"]


def test_a_revision_that_changes_nothing_is_refused(tamsin):
    with pytest.raises(CannotBuild) as refused:
        revise(tamsin, "madras")

    assert codes(refused) == ["revision_unchanged"]


def test_going_back_to_an_earlier_build_is_a_new_revision(tamsin):
    revise(tamsin, "madras", glass="rocks")

    assert revise(tamsin, "madras").number == 3


def test_no_effect_in_the_past(tamsin):
    with pytest.raises(CannotBuild) as refused:
        revise(tamsin, "madras", glass="rocks", takes_effect_at=NOW - HOUR)

    assert codes(refused) == ["takes_effect_in_the_past"]


def test_a_revision_must_hold_under_rules_that_wait(tamsin):
    glasses = kitchen.RULES.glasses | {"wine": GlassRule(name="Thimble", amount=1)}
    change_rules(tamsin, glasses=glasses, takes_effect_at=THURSDAY)

    with pytest.raises(CannotBuild) as refused:
        revise(tamsin, "madras", glass="wine")

    [reason] = refused.value.reasons
    assert (reason.code, reason.values["rules"]) == ("over_full", 2)


def test_another_house_s_drink_is_out_of_reach(tamsin, ravna):
    theirs = recipe(ravna, "madras")
    spec = {**kitchen.MENU["madras"].model_dump(mode="json"), "glass": "rocks"}

    with pytest.raises(DatabaseError, match="same venue"), transaction.atomic():
        publish.publish_revision(by=tamsin, recipe=theirs, spec=spec, at=NOW)

    assert theirs.revisions.count() == 1


# House rules


def test_rules_are_numbered_and_count_from_their_hour(tamsin):
    pours = kitchen.RULES.pours | {LiquorClass.SPIRIT: PourRule(amount=1.1)}
    version = change_rules(tamsin, pours=pours, takes_effect_at=THURSDAY)

    assert version.number == 2
    assert menu_at(tamsin.venue, THURSDAY - HOUR).rules_version.number == 1
    menu = menu_at(tamsin.venue, THURSDAY)
    assert menu.rules_version == version
    [vodka, *_] = menu.by_slug["madras"].drink.spec.parts
    assert vodka.ml == pytest.approx(1.1 * 29.5735, abs=0.001)


def test_rules_are_never_changed(tamsin):
    version = change_rules(tamsin, tolerance=0.25)

    with pytest.raises(SealedError):
        version.delete()


def test_rules_that_break_a_poured_drink_are_refused(tamsin):
    with pytest.raises(CannotBuild) as refused:
        change_rules(tamsin, glasses=SMALL_GLASSES)

    drinks = {reason.values["drink"] for reason in refused.value.reasons}
    assert {"madras", "gin-tonic"} <= drinks
    assert "negroni" not in drinks
    assert RulesVersion.objects.in_house(tamsin.venue).count() == 1


def test_rules_that_break_only_what_is_not_poured_are_taken(tamsin):
    highballs = Recipe.objects.in_house(tamsin.venue).filter(module__slug="highballs")
    off = dict.fromkeys(highballs.values_list("slug", flat=True), OnMenu.OFF)
    publish.set_menu(by=tamsin, standing=off, at=NOW)

    assert change_rules(tamsin, glasses=SMALL_GLASSES).number == 2


def test_rules_must_not_break_a_revision_that_waits(tamsin):
    revise(tamsin, "madras", glass="wine", takes_effect_at=THURSDAY)
    glasses = {k: v for k, v in kitchen.RULES.glasses.items() if k != "wine"}

    with pytest.raises(CannotBuild) as refused:
        change_rules(tamsin, glasses=glasses)

    [reason] = refused.value.reasons
    assert (reason.code, reason.values["drink"]) == ("unknown_glass", "madras")


def test_rules_that_name_what_the_house_has_not_are_refused(tamsin):
    with pytest.raises(CannotBuild) as refused:
        change_rules(tamsin, slang={"cran": "cloudberry-juice"})

    assert codes(refused) == ["unknown_ingredient"]


def test_rules_that_change_nothing_are_refused(tamsin):
    with pytest.raises(CannotBuild) as refused:
        change_rules(tamsin)

    assert codes(refused) == ["rules_unchanged"]


def test_rules_take_no_effect_in_the_past(tamsin):
    with pytest.raises(CannotBuild) as refused:
        change_rules(tamsin, tolerance=0.25, takes_effect_at=NOW - HOUR)

    assert codes(refused) == ["takes_effect_in_the_past"]


# The menu


def test_a_must_know_is_poured(tamsin):
    publish.set_menu(by=tamsin, standing={"madras": OnMenu.OFF}, at=NOW)
    [changed] = publish.set_menu(by=tamsin, standing={"madras": OnMenu.MUST_KNOW}, at=NOW)

    stored = Recipe.objects.get(pk=changed.pk)
    assert stored.is_poured
    assert stored.must_know


@pytest.mark.parametrize("before", OnMenu)
@pytest.mark.parametrize("after", OnMenu)
def test_every_standing_follows_every_other(tamsin, before, after):
    publish.set_menu(by=tamsin, standing={"madras": before}, at=NOW)

    changed = publish.set_menu(by=tamsin, standing={"madras": after}, at=NOW)

    assert [r.slug for r in changed] == ([] if before is after else ["madras"])
    assert publish.standing_of(recipe(tamsin, "madras")) is after


def test_what_is_not_named_stays(tamsin):
    publish.set_menu(by=tamsin, standing={"madras": OnMenu.OFF}, at=NOW)

    assert publish.standing_of(recipe(tamsin, "gin-tonic")) is OnMenu.MUST_KNOW
    assert publish.standing_of(recipe(tamsin, "negroni")) is OnMenu.POURED


def test_a_menu_that_changes_nothing_writes_nothing(tamsin):
    before = log.head(tamsin.venue)

    assert publish.set_menu(by=tamsin, standing={"madras": OnMenu.POURED}, at=NOW) == []
    assert log.head(tamsin.venue) == before


def test_no_drink_of_this_house(tamsin):
    with pytest.raises(KeyError):
        publish.set_menu(by=tamsin, standing={"moonwater": OnMenu.POURED}, at=NOW)


def test_a_drink_that_the_rules_cannot_build_stays_off(tamsin):
    publish.set_menu(by=tamsin, standing={"bottled-lager": OnMenu.OFF}, at=NOW)
    glasses = kitchen.RULES.glasses | {"bottle": GlassRule(name="Bottle", amount=7)}
    change_rules(tamsin, glasses=glasses)

    with pytest.raises(CannotBuild) as refused:
        publish.set_menu(by=tamsin, standing={"bottled-lager": OnMenu.POURED}, at=NOW)

    assert refused.value.reasons[0].values["drink"] == "bottled-lager"
    assert not recipe(tamsin, "bottled-lager").is_poured


# The course


def test_a_new_house_has_the_course(odalys):
    assert Recipe.objects.in_house(odalys.venue).count() == len(kitchen.MENU)
    assert list(Module.objects.in_house(odalys.venue).gates()) == [
        Module.objects.get(venue=odalys.venue, slug="service-and-safety")
    ]
    beer = Module.objects.get(venue=odalys.venue, slug="beer")
    at = beer.at_stations.order_by("station__slug").values_list("station__slug", flat=True)
    assert list(at) == ["beer-point", "well"]


def test_loading_twice_changes_nothing(odalys):
    before, entries = log.head(odalys.venue), LogEntry.objects.count()
    course = small_course()

    assert publish.load_course(by=odalys, course=course, rules=course.rules, at=NOW) == 0
    assert log.head(odalys.venue) == before
    assert LogEntry.objects.count() == entries
    assert Recipe.objects.in_house(odalys.venue).count() == len(kitchen.MENU)


# The log


def _publish_rules(by):
    change_rules(by, tolerance=0.25)


def _publish_revision(by):
    revise(by, "madras", glass="rocks")


def _set_menu(by):
    publish.set_menu(by=by, standing={"madras": OnMenu.OFF}, at=NOW)


def _load_course(by):
    course = small_course()
    publish.load_course(by=by, course=course, rules=course.rules, at=NOW)


WRITES = {
    "publish_rules": (_publish_rules, ["rules_published"]),
    "publish_revision": (_publish_revision, ["revision_published"]),
    "set_menu": (_set_menu, ["menu_changed"]),
    "load_course": (
        _load_course,
        ["rules_published", *["revision_published"] * len(kitchen.MENU), "course_loaded"],
    ),
}


def verbs() -> set[str]:
    """Public functions that say who did it: the ones that write."""
    return {
        name
        for name, thing in vars(publish).items()
        if inspect.isfunction(thing)
        and thing.__module__ == publish.__name__
        and not name.startswith("_")
        and "by" in inspect.signature(thing).parameters
    }


def test_no_verb_is_left_out_below():
    assert verbs() == set(WRITES)


@pytest.fixture
def bare(db):
    """The owner of a house into which no course was loaded."""
    house_opened.disconnect(dispatch_uid="recipes.shipped")
    yield open_house("The Bare Room", owner="Bruno")
    house_opened.connect(load_into_new_house, dispatch_uid="recipes.shipped")


@pytest.mark.parametrize("verb", WRITES)
def test_every_verb_writes_the_log(verb, odalys, bare):
    by = bare if verb == "load_course" else odalys
    write, kinds = WRITES[verb]
    before = log.head(by.venue).number

    write(by)

    entries = LogEntry.objects.filter(venue=by.venue, number__gt=before)
    assert list(entries.values_list("kind", flat=True)) == kinds
    assert {e.by_code for e in entries} == {by.code}
    assert {e.at for e in entries} == {NOW}


def test_the_log_finds_nothing_wrong(tamsin):
    revise(tamsin, "madras", glass="rocks")
    change_rules(tamsin, tolerance=0.25)
    _set_menu(tamsin)

    assert list(log.check(tamsin.venue)) == []


def test_a_verb_that_fails_on_the_way_leaves_nothing(tamsin, monkeypatch):
    def broken(**kwargs):
        raise RuntimeError("the log is full")

    monkeypatch.setattr(log, "append", broken)
    with pytest.raises(RuntimeError):
        revise(tamsin, "madras", glass="rocks")

    assert Revision.objects.filter(recipe=recipe(tamsin, "madras")).count() == 1
