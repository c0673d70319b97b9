"""Every reason of the measures has words, and two choices never read alike."""

import re
from datetime import UTC, date, datetime

import pytest
from django.utils import translation
from hypothesis import given, settings

from assessments.measures.codes import CODES
from assessments.measures.marking import CONDUCT
from assessments.measures.proving import work_of
from assessments.measures.quiz import House, ItemKind, QuizPlan, generate
from assessments.measures.shift_plan import plan_cards
from assessments.proving_builds import work_words
from assessments.wording import WORDS, aspects_words, word
from assessments.wording_practical import WORK
from recipes import wording as recipe_wording
from recipes.grammar.aspects import Aspect
from recipes.grammar.calls import vocabulary
from recipes.grammar.drink import make_drink
from recipes.grammar.reasons import Reason
from recipes.shipped import shipped_course
from tests.grammar.kitchen import GLASS_NAMES, NAMES, PANTRY, RULES
from tests.measures.bar import menu, menus, scenario

PLACEHOLDER = re.compile(r"%\((\w+)\)s")
UNFILLED = re.compile(r"%\(|%s|[{}]|\bNone\b|\b[a-z]+_[a-z]+\b|  |^\s|\s$")
"""A placeholder, a Python value, a code or a gap where a word should stand."""

SAMPLES = {
    "aspects": "glass,pours", "drinks": "Madras, Negroni", "drink": "Madras", "permit": "serving",
    "says": "full ice", "trainer": "Marek", "day": "2026-03-14",
}  # fmt: skip
WHOLE_QUIZ = QuizPlan(
    80, mix=((ItemKind.WHOLE, None), *((ItemKind.ASPECT, aspect) for aspect in Aspect))
)


@pytest.fixture(autouse=True)
def _in_english():
    with translation.override("en"):
        yield


def sample(code: str, number: int = 3) -> Reason:
    return Reason.of(code, **{name: SAMPLES.get(name, number) for name in CODES[code]})


def test_every_code_has_words_and_every_word_a_code():
    assert set(WORDS) == set(CODES)


@pytest.mark.parametrize("code", CODES)
def test_a_sentence_has_a_place_for_every_parameter(code):
    values = {name: f"<{name}>" for name in CODES[code] if name != "count"}
    text = WORDS[code] % {**values, **({"count": 3} if "count" in CODES[code] else {})}

    assert all(value in text for value in values.values())
    assert ("3" in text) is ("count" in CODES[code])


@pytest.mark.parametrize("code", CODES)
def test_a_sentence_reads_as_one(code):
    text = word(sample(code))

    assert text
    assert not UNFILLED.search(text)
    assert text[0].isupper() or text[0].isdigit() or text[0] == "“"


@pytest.mark.parametrize("code", [code for code, names in CODES.items() if "count" in names])
def test_one_is_worded_as_one(code):
    one, three = word(sample(code, 1)), word(sample(code, 3))

    assert re.search(r"\b(one|once)\b", one, re.IGNORECASE)
    assert "3" in three


def test_conduct_is_worded_as_what_to_do_with_its_reason():
    for step in CONDUCT:
        assert word(step.does)
        assert word(step.why).endswith(".")


def test_cautions_defer_to_law_and_licensed_training():
    for code in ("why_conduct_age", "why_conduct_sober"):
        assert "Local law and licensed training decide" in word(Reason.of(code))
    assert "label" in word(Reason.of("conduct_allergy"))
    assert "never promise" in word(Reason.of("why_conduct_allergy"))


def test_aspects_are_listed_as_people_list_them():
    assert aspects_words(["glass"]) == "the glass"
    assert aspects_words(["glass", "pours"]) == "the glass and the pours"
    assert aspects_words(["glass", "pours", "method"]) == "the glass, the pours and the method"
    text = word(Reason.of("sign_off_out_of_date", drink="Madras", aspects="glass,pours"))
    assert text == "Madras has changed since it was signed off: the glass and the pours."


def test_guests_who_wait_no_longer_are_told_as_a_share():
    slow = Reason.of("hour_slow", count=1, in_time=80, wait=120)

    assert word(slow) == (
        "One person gets through it, but only 80 of 100 guests wait no longer than 120 s."
    )


def test_what_is_told_in_days_is_days():
    """`within` is worded as the last so many days, whatever code it stands in."""
    told = {code for code, parameters in CODES.items() if "within" in parameters}

    assert told == {"pours_not_checked", "pace_not_checked", "tasks_not_done", "conduct_slipped"}


def test_an_unknown_code_is_refused():
    with pytest.raises(KeyError):
        word(Reason.of("no_such_code"))


def test_no_word_of_a_rating_scale_reaches_the_reader():
    """Right or wrong, and perhaps slow: the library's own scale stays behind our function."""
    texts = " ".join(word(sample(code)) for code in CODES).lower()

    assert not re.search(r"\b(again|hard|easy|deck|streak|badge)\b", texts)


def test_whatever_a_quiz_asks_is_worded():
    scenarios = [scenario("ice", critical=True)]
    drinks = menu()
    plan = QuizPlan(90, scenarios=1, cards=6)
    house = House(vocabulary(RULES, drinks, PANTRY), 21, date(2026, 5, 4))
    items = generate(
        plan=plan, drinks=drinks, pool=drinks, scenarios=scenarios, seed=1, house=house
    )

    assert {i.kind for i in items} == set(ItemKind)
    assert all(word(i.prompt) for i in items)
    assert [word(i.why) for i in items if i.kind is ItemKind.SCENARIO] == ["Ice matters"]
    assert all(word(i.why) for i in items if i.kind is ItemKind.CARD)


def test_whatever_card_is_due_is_worded():
    cards = plan_cards(
        drinks=menu(), memories={}, otherwise={}, at=datetime(2026, 5, 4, tzinfo=UTC)
    )

    assert word(cards[0].reason).endswith("is new to you.")


def read_out(item, content) -> tuple[str, ...]:
    """A choice as it stands on the screen."""
    shown = content if item.kind is ItemKind.WHOLE else {item.aspect.value: content}
    return tuple(
        line
        for aspect in Aspect
        if aspect.value in shown
        for line in recipe_wording.aspect_words(aspect, shown[aspect.value], NAMES, GLASS_NAMES)
    )


@settings(max_examples=60)
@given(menus())
def test_no_two_choices_of_an_item_read_alike(drinks):
    for item in generate(plan=WHOLE_QUIZ, drinks=drinks, pool=drinks, scenarios=(), seed=3):
        read = [read_out(item, c.content) for c in item.choices]
        assert len(set(read)) == len(read), (item.kind, item.aspect, read)


def test_no_two_choices_of_the_test_menu_read_alike():
    drinks = menu()
    items = generate(plan=WHOLE_QUIZ, drinks=drinks, pool=drinks, scenarios=(), seed=3)

    assert {i.aspect for i in items} == {None, *Aspect}
    for item in items:
        read = [read_out(item, c.content) for c in item.choices]
        assert len(set(read)) == len(read), (item.kind, item.aspect, read)


@pytest.mark.parametrize("module", [m.slug for m in shipped_course().modules if m.drinks])
def test_no_two_choices_of_the_shipped_course_read_alike(module):
    course = shipped_course()
    pool = [
        make_drink(
            slug=d.slug, name=d.name, aliases=d.aliases, module=m.slug, spec=d.spec,
            rules=course.rules, pantry=course.pantry,
        )
        for m in course.modules
        for d in m.drinks
    ]  # fmt: skip
    drinks = [d for d in pool if d.module == module]
    plan = QuizPlan(7 * len(drinks), mix=WHOLE_QUIZ.mix)
    items = generate(plan=plan, drinks=drinks, pool=pool, scenarios=(), seed=3)

    assert len(items) > 4 * len(drinks)
    for item in items:
        read = [read_out(item, c.content) for c in item.choices]
        assert len(set(read)) == len(read) == 4, (item.recipe, item.aspect, read)


@pytest.mark.parametrize("made", menu(), ids=lambda made: made.slug)
def test_every_kind_of_work_has_words(made):
    assert all(work_words(code) for code in work_of(made.spec))
    assert {c for c in work_of(made.spec) if ":" not in c} <= set(WORK)
