"""What the house has published for later is learned and signed off before it counts."""

import datetime as dt

import pytest

from assessments import ahead, board, reads, record
from assessments.measures.marking import HelpLevel
from assessments.met import known_to
from assessments.models import CardMark, SignOff
from assessments.sign_offs import must_knows_proven
from recipes.grammar.aspects import Aspect
from tests.assessments.pages import address, fields, send_twice, text, written
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.recipes import DAY, change_rules, revise

THURSDAY = NOW + 5 * DAY
CODE = ahead.code_of(THURSDAY)
HELP = {"help_level": "unprompted", "made_with": "stock"}


@pytest.fixture
def from_thursday(tamsin):
    """On Thursday a gin and tonic goes into a rocks glass."""
    return revise(tamsin, "gin-tonic", glass="rocks", at=NOW, takes_effect_at=THURSDAY)


def coming_of(member, at=NOW):
    return ahead.coming(make.menu_of(member, at))


def sign_off_ahead(trainer, hire, slug="gin-tonic"):
    [coming] = coming_of(trainer)
    watched = record.watch_build(
        by=trainer, hire=hire, menu=coming.menu, item=coming.menu.by_slug[slug], off=(),
        help_level=HelpLevel.UNPROMPTED, at=NOW,
    )  # fmt: skip
    return record.sign_off(by=trainer, watched=watched, at=NOW)


def as_of(path, code=CODE):
    return f"{path}?as_of={code}"


def test_nothing_waits_in_a_house_that_published_nothing_for_later(nils):
    assert coming_of(nils) == ()


def test_a_coming_menu_names_what_changes_and_in_what(nils, from_thursday):
    [coming] = coming_of(nils)

    assert coming.moment == THURSDAY
    assert coming.aspects == {"gin-tonic": (Aspect.GLASS,)}
    assert [i.revision.number for i in coming.to_learn] == [2]


def test_rules_that_come_later_name_every_drink_that_they_change(tamsin, nils):
    change_rules(tamsin, straw_families=(), at=NOW, takes_effect_at=THURSDAY)

    [coming] = coming_of(nils)

    assert len(coming.to_learn) > 10
    assert {a for aspects in coming.aspects.values() for a in aspects} == {Aspect.FINISH}


def test_each_coming_menu_is_held_against_the_one_before_it(tamsin, nils, from_thursday):
    revise(tamsin, "madras", glass="rocks", at=NOW, takes_effect_at=THURSDAY + DAY)

    assert [[i.drink.slug for i in c.to_learn] for c in coming_of(nils)] == [
        ["gin-tonic"],
        ["madras"],
    ]


def test_what_has_come_no_longer_waits(nils, from_thursday):
    assert coming_of(nils, at=THURSDAY) == ()


def test_a_drink_that_retires_is_told_of_and_is_no_card(nils, from_thursday):
    recipe = from_thursday.recipe
    recipe.retires_at = THURSDAY
    recipe.save()

    [coming] = coming_of(nils)

    assert [i.drink.slug for i in coming.leaving] == ["gin-tonic"]
    assert coming.to_learn == ()


def test_a_coming_moment_reads_back_from_its_code():
    assert ahead.moment_of(CODE) == THURSDAY.replace(microsecond=0)
    assert ahead.moment_of("thursday") is None


def test_next_shift_says_from_when_which_drinks_change(visit, nils, from_thursday):
    make.read(nils)

    said = text(visit(nils).get(address(nils, "next_shift")))

    assert "From Thursday" in said
    assert "Gin tonic glass" in said
    assert "1 of them is a card for you already." in said


def test_a_new_hire_is_not_drilled_on_what_they_have_not_read(visit, nils, from_thursday):
    said = text(visit(nils).get(address(nils, "next_shift")))

    assert "Gin tonic glass" in said
    assert "a card for you" not in said


def test_a_card_of_the_coming_build_is_marked_against_it(visit, nils, from_thursday):
    make.read(nils)
    make.turn_card(nils, "gin-tonic")
    path, browser = as_of(address(nils, "shift_cards")), visit(nils)
    page = browser.get(path)
    assert "as from Thursday" in text(page)
    assert "The house has changed Gin tonic: the glass." in text(page)

    response = browser.send(path, fields(page))

    assert response["Location"] == f"{path}&left=0"
    mark = CardMark.objects.order_by("pk").last()
    assert mark.revision == from_thursday
    assert "You are ahead of it" in text(browser.get(path))


def test_what_was_learned_ahead_is_known_on_thursday(visit, nils, from_thursday):
    make.read(nils)
    [coming] = coming_of(nils)
    record.mark_card(
        by=nils, menu=coming.menu, item=coming.menu.by_slug["gin-tonic"], missed=(),
        at=THURSDAY - dt.timedelta(hours=1),
    )  # fmt: skip
    menu = make.menu_of(nils, THURSDAY)

    due = reads.cards_due(nils, menu, THURSDAY, reads.modules_of(nils, menu))
    assert "gin-tonic" not in {c.drink for c in due}


@pytest.mark.parametrize(
    "code", ["", "thursday", ahead.code_of(THURSDAY + DAY), "20260231T000000Z"]
)
@pytest.mark.parametrize("page", ["shift_cards", "watch_hire", "watch_build"])
def test_any_other_moment_is_none(visit, tamsin, nils, from_thursday, page, code):
    parts = {"watch_hire": {"hire": nils.code}}
    parts["watch_build"] = {"hire": nils.code, "drink": "gin-tonic"}
    path = address(nils, page, **parts.get(page, {}))

    assert visit(tamsin).get(as_of(path, code)).status_code == 404
    assert visit(tamsin).get(as_of(path)).status_code == 200


def test_only_what_changes_is_a_card_of_a_coming_menu(visit, nils, from_thursday):
    make.read(nils)
    path, browser = as_of(address(nils, "shift_cards")), visit(nils)
    sent = {**fields(browser.get(path)), "drink": "madras"}

    assert browser.send(path, sent).status_code == 404


def test_watch_offers_what_is_coming(visit, tamsin, nils, from_thursday):
    path, browser = address(nils, "watch_hire", hire=nils.code), visit(tamsin)
    assert "1 drink is built anew. It can be watched" in text(browser.get(path))

    said = text(browser.get(as_of(path)))

    assert "To sign off before Gin tonic" in said
    assert "Madras" not in said


def test_a_build_is_watched_and_signed_off_ahead(visit, tamsin, nils, from_thursday):
    path = as_of(address(nils, "watch_build", hire=nils.code, drink="gin-tonic"))
    browser = visit(tamsin)
    page = browser.get(path)
    assert "This is how it will be built then." in text(page)

    first, again = send_twice(browser, path, {**fields(page), **HELP})
    build = browser.get(first["Location"])
    sign = address(nils, "sign_off", code=first["Location"].split("/")[-2])
    browser.send(sign, fields(build, sign))

    assert first["Location"] == again["Location"]
    row = SignOff.objects.get()
    [coming] = coming_of(nils)
    prints = coming.menu.by_slug["gin-tonic"].drink.fingerprints
    assert row.revision == from_thursday
    assert row.fingerprints == {a.value: p for a, p in prints.items()}
    assert "It proves the drink from " in text(browser.get(first["Location"]))


def test_it_proves_the_drink_from_its_moment_on(tamsin, nils, from_thursday):
    sign_off_ahead(tamsin, nils)

    assert must_knows_proven([nils], make.menu_of(nils, LATER)) == {nils.pk: 0}
    assert must_knows_proven([nils], make.menu_of(nils, THURSDAY)) == {nils.pk: 1}


def test_until_then_the_board_goes_by_todays_build(tamsin, nils, from_thursday):
    """What both builds have in common was shown all the same; the build itself is no trial yet."""
    stations = board.order_stations(nils.venue)

    def proven(at):
        rows = board.rows_of(nils, stations, make.menu_of(nils, at))
        return [(r.trials, [d.slug for d in r.facts.drinks if d.signed_off]) for r in rows]

    before = proven(LATER)
    sign_off_ahead(tamsin, nils)

    assert proven(LATER) == before == [(0, [])] * len(stations)
    assert (1, ["gin-tonic"]) in proven(THURSDAY)


def test_todays_sign_off_stands_beside_the_one_ahead(tamsin, nils, from_thursday):
    make.sign_off(tamsin, nils, "gin-tonic")
    sign_off_ahead(tamsin, nils)

    for at in (LATER, THURSDAY):
        assert must_knows_proven([nils], make.menu_of(nils, at)) == {nils.pk: 1}


def test_the_record_says_from_when_it_counts(visit, tamsin, nils, from_thursday):
    sign_off_ahead(tamsin, nils)

    said = text(visit(nils).get(address(nils, "my_record")))

    assert "signed off, ahead" in said
    assert "when it is built so" in said
    assert "Changed since" not in said


def test_a_form_on_its_way_at_the_moment_is_not_lost(
    visit, tamsin, nils, from_thursday, time_machine
):
    path = as_of(address(nils, "watch_build", hire=nils.code, drink="gin-tonic"))
    browser = visit(tamsin)
    sent = {**fields(browser.get(path)), **HELP}
    time_machine.move_to(THURSDAY + dt.timedelta(seconds=5), tick=False)

    assert browser.send(path, sent).status_code == 302
    assert SignOff.objects.count() == 0
    assert written()["WatchedBuild"] == 1


def test_a_change_of_mind_before_the_moment_refuses_the_old_checklist(
    visit, tamsin, nils, from_thursday
):
    path = as_of(address(nils, "watch_build", hire=nils.code, drink="gin-tonic"))
    browser = visit(tamsin)
    sent = {**fields(browser.get(path)), **HELP}
    revise(tamsin, "gin-tonic", glass="pint", at=NOW, takes_effect_at=THURSDAY)

    assert browser.send(path, sent).status_code == 200
    assert written()["WatchedBuild"] == 0


def test_todays_build_is_new_to_whoever_has_only_met_the_coming_one(tamsin, nils, from_thursday):
    make.read(nils)
    sign_off_ahead(tamsin, nils)

    assert "gin-tonic" not in known_to(nils, make.menu_of(nils)).otherwise
    assert "gin-tonic" not in known_to(nils, make.menu_of(nils, THURSDAY)).otherwise
