"""Quizzes, builds and verdicts in words: nothing reads the same that isn't, nothing is a wall."""

import inspect
import re
from dataclasses import replace
from importlib import import_module
from pkgutil import iter_modules
from types import SimpleNamespace

import pytest

import assessments
from assessments import measuring, slips
from assessments.measures.quiz import ASK, ItemAsked, ItemKind
from assessments.measures.readiness import Standing, Verdict
from assessments.measures.ready_facts import ReadyPolicy
from assessments.measures.waits import Reader
from assessments.prints import by_aspect, changed_since, of_build, whole
from assessments.showing import Naming, show_gaps, show_row, show_verdict
from assessments.showing_quiz import show_item, show_review
from assessments.wording_refusals import WORDS, say
from barcourse.people.reasons import Reason as Refusal
from recipes.grammar.aspects import Aspect
from recipes.grammar.reasons import Reason
from recipes.models import Module
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.measures import bar


def reasons(code, *drinks):
    return [Reason.of(code, drink=d, aspects="glass,finish") for d in drinks]


def test_two_of_a_kind_stand_by_themselves():
    missing = reasons("not_signed_off", "Madras", "Paloma")

    assert [(g.sentence, g.of) for g in show_gaps(missing)] == [
        ("Madras isn't signed off.", []),
        ("Paloma isn't signed off.", []),
    ]


def test_many_of_a_kind_stand_under_one_heading():
    drinks = [f"Drink {n}" for n in range(40)]

    [unsigned, changed] = show_gaps(
        [*reasons("not_signed_off", *drinks), *reasons("sign_off_out_of_date", *drinks[:3])]
    )

    assert (unsigned.sentence, unsigned.of) == ("40 must-knows aren't signed off.", drinks)
    assert changed.sentence == "The house has changed 3 drinks since they were signed off."
    assert changed.of[0] == "Drink 0 has changed since it was signed off: the glass and the finish."


def verdict(*missing):
    return Verdict(
        person="x", standing=Standing.NOT_YET, right=0.5, right_low=0.699, right_high=0.711,
        ask=0.25, ask_low=0.2, ask_high=0.3, wrong=0.25, wrong_low=0.2, wrong_high=0.3,
        provisional=True, missing=missing, next=(), seen=1, of=8, seen_share=0.125,
        policy=ReadyPolicy(0.7, 0.1, 0.5),
    )  # fmt: skip


FIGURES = (
    Reason.of("right_too_low", low=41, least=70),
    Reason.of("wrong_too_high", wrong=25, most=10),
)


def test_a_verdict_in_whole_orders():
    shown = show_verdict(verdict(*FIGURES))

    assert (shown.right, shown.ask, shown.wrong, shown.low, shown.high) == (50, 25, 25, 69, 72)
    assert shown.right + shown.ask + shown.wrong == 100
    assert [g.sentence for g in shown.gaps] == shown.missing


def test_a_guess_is_called_one():
    assert show_verdict(verdict()).guess == "Only one drink of 8 has been seen yet: mostly a guess."
    assert show_verdict(replace(verdict(), seen=2, seen_share=0.2)).guess == ""


def row_of(found, trials=1):
    facts = SimpleNamespace(known=SimpleNamespace(waiting={}))
    return SimpleNamespace(
        verdict=found, trials=trials, facts=facts, hire=SimpleNamespace(code="nils")
    )


@pytest.mark.parametrize(("trials", "gaps"), [(0, 1), (0.5, 3)])
def test_figures_that_rest_on_nothing_are_no_reason(trials, gaps):
    found = verdict(Reason.of("no_must_knows"), *FIGURES)
    row = row_of(found, trials)

    assert len(show_row(row).gaps) == len(show_row(row).missing) == gaps


@pytest.mark.parametrize(
    ("reader", "begins"), [("nils", "Where you aren't sure, ask"), ("marek", "Whoever isn't sure")]
)
def test_you_is_said_to_oneself_alone(reader, begins):
    [gap] = show_row(row_of(verdict(FIGURES[1])), Reader(reader)).gaps

    assert gap.mend.startswith(begins)
    [of_nobody] = show_gaps([FIGURES[1]])
    assert of_nobody.mend.startswith("Whoever isn't sure")


def test_prints_of_builds():
    one, other = bar.drink("madras"), bar.drink("sea-breeze")

    assert of_build(one) == of_build(bar.drink("madras", name="Other", share=0.5))
    assert of_build(one) != of_build(other)
    assert whole(by_aspect(one)) == of_build(one)
    assert changed_since(by_aspect(one), one) == ()
    assert changed_since(by_aspect(one), other) == (Aspect.MIXERS,)
    assert changed_since({}, one) == tuple(Aspect)


@pytest.fixture
def quiz_items(nils):
    """Every item of a quiz on each module, with the names that its words need."""
    naming = Naming.of(make.menu_of(nils))
    quizzes = [make.start_quiz(nils, m.slug) for m in Module.objects.in_house(nils.venue)]
    return [(ItemAsked.from_json(i.asked), naming) for q in quizzes for i in q.items.all()]


def words_of(choice):
    return choice.text or tuple(choice.parts)


def test_every_kind_of_item_is_there(quiz_items):
    """Save for cards, which this short course has too few situations for."""
    assert {item.kind for item, _ in quiz_items} == set(ItemKind) - {ItemKind.CARD}


def test_no_two_choices_read_the_same(quiz_items):
    for item, naming in quiz_items:
        shown = show_item(item, naming)
        assert len({words_of(c) for c in shown.choices}) == len(item.choices), shown.prompt
        for part in shown.parts:
            assert len({c.text for c in part.choices}) == len(part.choices), shown.prompt
        if not item.takes_several:
            assert [c.is_right for c in shown.choices].index(True) == item.right


class TestTheShippedCourse:
    """The same of what really ships, whatever it is by now."""

    @pytest.fixture(autouse=True)
    def _the_real_course_ships(self, monkeypatch):
        monkeypatch.undo()

    def test_no_two_choices_read_the_same(self, nils):
        naming = Naming.of(make.menu_of(nils))
        assert len(make.menu_of(nils).items) > 50
        for module in Module.objects.in_house(nils.venue):
            for seed in (1, 2, 3):
                quiz = make.start_quiz(nils, module.slug, seed=seed)
                for item in quiz.items.all():
                    shown = show_item(make.asked_of(item), naming)
                    asked = len(make.asked_of(item).choices)
                    assert len({words_of(c) for c in shown.choices}) == asked, shown
                    for part in shown.parts:
                        assert len({c.text for c in part.choices}) == len(part.choices), part
                make.answer(quiz, make.ask)


def test_a_review_sets_two_builds_side_by_side(quiz_items):
    whole_items = [(i, n) for i, n in quiz_items if i.kind is ItemKind.WHOLE]
    for item, naming in whole_items:
        shown = show_review(item, naming, make.wrong(item))
        [given], [right] = shown.given, shown.right
        assert not set(given.parts) & set(right.parts)
        assert len(given.parts) == len(right.parts) > 0
        assert len(given.parts) + len(shown.item.alike) == len(Aspect)


def test_a_review_of_what_was_asked_about_shows_the_whole_build(quiz_items):
    item, naming = next((i, n) for i, n in quiz_items if i.kind is ItemKind.WHOLE)

    shown = show_review(item, naming, ASK)

    assert shown.given == []
    assert ([len(c.parts) for c in shown.right], shown.item.alike) == ([len(Aspect)], [])


VERBS = [
    import_module(f"assessments.{found.name}")
    for found in iter_modules(assessments.__path__)
    if found.name.startswith("record") or found.name.endswith("_steps")
]
"""Every module that writes."""


SAID = " ".join(
    name
    for module in VERBS
    for call in re.findall(r"refuse\((.*?)\)", inspect.getsource(module), re.DOTALL)
    for name in re.findall(r"(\w+)=", call)
)
"""Every parameter that a refusal names."""


ELSEWHERE = {
    slips: r'(?:\), |Reason\.of\(|, )"(\w+)"',
    measuring: r'code = "(\w+)"',
}
"""Modules that tell a verb why, and how a reason is written there."""


def codes_refused():
    found = dict.fromkeys(VERBS, r'refuse\(\s*"(\w+)"') | ELSEWHERE
    return {
        code
        for module, pattern in found.items()
        for code in re.findall(pattern, inspect.getsource(module))
    }


def test_whatever_a_verb_refuses_has_a_sentence():
    assert len(codes_refused()) > 8
    for code in codes_refused():
        given = dict.fromkeys([*SAID.split(), "minutes"], 2)  # more than any of them needs
        assert say(Refusal.of(code, **given))
    assert set(WORDS) <= codes_refused()
    with pytest.raises(KeyError):
        say(Refusal.of("no_such_code"))


def test_a_hire_is_told_to_ask_and_a_manager_that_they_should(visit, nils, marek):
    make.take_quiz(nils, "highballs", make.wrong)
    own = [visit(nils).get(address(nils, page)) for page in ("next_shift", "my_record")]
    theirs = [
        visit(marek).get(address(marek, "hire_record", code=nils.code)),
        visit(marek).get(address(marek, "once", hire=nils.code)),
    ]

    for page in own:
        assert "Where you aren't sure, ask" in text(page)
    for page in theirs:
        assert "Whoever isn't sure should ask" in text(page)
        assert "Where you aren't sure" not in text(page)
