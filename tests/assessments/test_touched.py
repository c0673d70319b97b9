"""Whose sign-offs and memory a change touches: counted in truth tables, wired at the page."""

from dataclasses import replace

import pytest

from assessments import ahead
from assessments.touched import OutOfDate, new_topics, out_of_date, topics_of, touched
from recipes.grammar.aspects import Aspect
from recipes.models import Revision, RulesVersion
from recipes.proposed import NotProposed, Proposed, read, sign_revision, sign_rules
from tests.assessments.pages import address, fields, text
from tests.factories import assessments as make
from tests.factories.assessments import NOW
from tests.factories.recipes import DAY, recipe, revise
from tests.grammar import kitchen
from tests.grammar.kitchen import build, pour, top
from tests.measures.bar import drink

GIN = drink("gin-tonic")
IN_A_ROCKS_GLASS = drink("gin-tonic", build(pour("gin"), top("tonic-water"), glass="rocks"))
WITH_SODA = drink("gin-tonic", build(pour("gin"), top("club-soda")))
MADRAS = drink("madras")
THURSDAY = NOW + 5 * DAY

OUT_OF_DATE = {
    "proven, and another glass": ({"gin-tonic"}, [GIN], [IN_A_ROCKS_GLASS], (Aspect.GLASS,)),
    "proven, and as before": ({"gin-tonic"}, [GIN], [GIN], ()),
    "never proven": (set(), [GIN], [IN_A_ROCKS_GLASS], ()),
    "another drink is proven": ({"madras"}, [GIN, MADRAS], [IN_A_ROCKS_GLASS, MADRAS], ()),
    "it comes off the menu": ({"gin-tonic"}, [GIN], [], ()),
    "it comes onto the menu": ({"gin-tonic"}, [], [GIN], ()),
}


@pytest.mark.parametrize("case", OUT_OF_DATE.values(), ids=OUT_OF_DATE)
def test_what_goes_out_of_date(case):
    proven, before, after, aspects = case

    expected = (OutOfDate(GIN.name, aspects),) if aspects else ()
    assert out_of_date(proven, before, after) == expected


def fresh(after, before):
    return topics_of(after) - topics_of(before)


NEW_TOPICS = {
    "known in full, and soda for tonic": (
        topics_of(GIN), [GIN], [WITH_SODA], fresh(WITH_SODA, GIN),
    ),
    "nothing known of it": (frozenset(), [GIN], [WITH_SODA], frozenset()),
    "nothing changes": (topics_of(GIN), [GIN], [GIN], frozenset()),
    "known by another way, of what is coming": (
        topics_of(GIN) | topics_of(WITH_SODA), [GIN], [WITH_SODA], frozenset(),
    ),
    "a new drink is new to everybody anyway": (topics_of(GIN), [GIN], [GIN, MADRAS], frozenset()),
    "what another drink of today teaches is not new": (
        topics_of(GIN),
        [GIN, replace(WITH_SODA, slug="other", topics=WITH_SODA.topics)],
        [WITH_SODA],
        frozenset(),
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", NEW_TOPICS.values(), ids=NEW_TOPICS)
def test_what_becomes_new_to_learn(case):
    known, before, after, expected = case

    assert new_topics(known, before, after) == expected


def test_a_change_of_mixer_is_something_to_learn():
    """Else the table above would hold of a function that finds nothing."""
    assert fresh(WITH_SODA, GIN)


@pytest.fixture
def signed_off(tamsin, nils):
    make.sign_off(tamsin, nils, "gin-tonic")
    return nils


@pytest.fixture
def from_thursday(tamsin):
    return revise(tamsin, "gin-tonic", glass="rocks", at=NOW, takes_effect_at=THURSDAY)


def waiting_page(member):
    return address(member, "touched_waiting", moment=ahead.code_of(THURSDAY))


def test_the_page_of_what_waits_names_whom_it_touches(visit, tamsin, signed_off, from_thursday):
    said = text(visit(tamsin).get(waiting_page(tamsin)))
    assert "What waits is taken back on the page of its drink: " in said

    assert "1 of 1 people in training" in said
    assert "1 drink on the menu is built otherwise." in said
    assert "Nils 1 sign-off goes out of date in part: Gin tonic glass" in said
    assert "1 thing that they know becomes new to learn." in said


def test_nobody_is_touched_where_nobody_has_shown_anything(visit, tamsin, nils, from_thursday):
    said = text(visit(tamsin).get(waiting_page(tamsin)))

    assert "Nobody's sign-offs or memory" in said
    assert "Nils" not in said


def test_whoever_is_signed_off_ahead_is_not_touched(tamsin, nils, from_thursday):
    [coming] = ahead.coming(make.menu_of(nils))
    make.turn_card(nils, "gin-tonic", at=NOW)
    assert touched(coming.before, coming.menu, [nils])

    make.turn_card(nils, "gin-tonic", at=THURSDAY)

    assert touched(coming.before, coming.menu, [nils]) == []


def test_the_book_leads_to_it(visit, tamsin, from_thursday):
    page = visit(tamsin).get(address(tamsin, "drink", slug="gin-tonic"))

    assert waiting_page(tamsin) in page.content.decode()


def test_two_queries_count_it_for_everybody(
    tamsin, nils, signed_off, from_thursday, django_assert_num_queries
):
    [coming] = ahead.coming(make.menu_of(nils))

    with django_assert_num_queries(2):
        touched(coming.before, coming.menu, [nils])
    with django_assert_num_queries(2):
        touched(coming.before, coming.menu, [nils, tamsin])


@pytest.mark.parametrize("moment", ["now", "20260312T150001Z", "20260310T150000Z"])
def test_a_moment_at_which_nothing_waits_is_no_page(visit, tamsin, from_thursday, moment):
    path = address(tamsin, "touched_waiting", moment=moment)

    assert visit(tamsin).get(path).status_code == 404


def rules_without_straw(member, at=None):
    rules = make.menu_of(member).rules.model_copy(update={"straw_families": ()})
    return sign_rules(member.venue, rules, at)


def test_rules_that_were_typed_are_rehearsed_and_nothing_is_saved(visit, tamsin, signed_off):
    versions = RulesVersion.objects.count()

    response = visit(tamsin).send(
        address(tamsin, "touched_typed"),
        {"proposed": rules_without_straw(tamsin), "tolerance": "1"},
    )

    said = text(response)
    assert "1 of 1 people in training" in said
    assert "Gin tonic finish" in said
    assert RulesVersion.objects.count() == versions


def test_a_revision_is_published_from_there_as_it_was_typed(visit, tamsin, signed_off):
    browser, path = visit(tamsin), address(tamsin, "drink_change", slug="gin-tonic")
    form = {**fields(browser.get(path)), "glass": "rocks", "look": "1"}
    seen = browser.send(path, form)
    proposed = seen.context["proposed"]
    typed = {**fields(seen, path), "proposed": proposed}

    last = browser.send(address(tamsin, "touched_typed"), typed)
    assert "Gin tonic glass" in text(last)
    assert Revision.objects.filter(recipe__slug="gin-tonic", venue=tamsin.venue).count() == 1
    response = browser.send(path, {**fields(last, path), "publish": "1"})

    assert response.status_code == 302
    published = Revision.objects.filter(recipe__slug="gin-tonic", venue=tamsin.venue).last()
    assert (published.number, published.spec["glass"]) == (2, "rocks")


def test_a_change_that_can_no_longer_be_published_says_why(visit, tamsin):
    unchanged = make.menu_of(tamsin).rules
    sent = {"proposed": sign_rules(tamsin.venue, unchanged, None)}

    said = visit(tamsin).send(address(tamsin, "touched_typed"), sent)

    assert said.context["refused"]
    assert "people in training" not in text(said)
    assert "Back to the change" in text(said)


@pytest.mark.parametrize("text", ["", "nonsense", "a:b:c"])
def test_only_what_was_signed_here_is_rehearsed(visit, tamsin, text):
    assert (
        visit(tamsin).send(address(tamsin, "touched_typed"), {"proposed": text}).status_code == 400
    )


def test_what_another_house_signed_is_nothing_here(visit, tamsin, ravna):
    sent = {"proposed": rules_without_straw(ravna)}

    assert visit(tamsin).send(address(tamsin, "touched_typed"), sent).status_code == 400
    with pytest.raises(NotProposed):
        read(sent["proposed"], tamsin)


def test_a_signed_change_reads_back_as_it_was(tamsin):
    spec = kitchen.MENU["gin-tonic"].model_dump(mode="json")

    again = read(sign_revision(recipe(tamsin, "gin-tonic"), spec, THURSDAY), tamsin)

    path = address(tamsin, "drink_change", slug="gin-tonic")
    assert again == Proposed("gin-tonic", spec, THURSDAY, path)
