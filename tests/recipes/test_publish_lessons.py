"""What there is to read and to be asked: what the verbs write, refuse and leave alone."""

from dataclasses import replace

import pytest

from barcourse.people import log
from barcourse.people.reasons import Refused
from recipes import publish_lessons as publish
from recipes.models import Lesson, Module, Scenario
from recipes.publish_lessons import Question
from tests.factories.people import OPENED
from tests.factories.recipes import DAY

NOW = OPENED + DAY
KEG = Question(
    question="A keg has to go down the stairs. How?",
    choices=("Alone, quickly", "Two people, or the lift"),
    right=1,
    why="Backs are hurt for life.",
    critical=True,
)


def module(by, slug="service-and-safety"):
    return Module.objects.in_house(by.venue).get(slug=slug)


def ice(by):
    return Lesson.objects.in_module(module(by)).get(slug="ice")


def add(by, name="Kegs", to="service-and-safety"):
    return publish.add_lesson(by=by, module=module(by, to), name=name, body="Two people.", at=NOW)


def names(by, of="service-and-safety"):
    return [lesson.name for lesson in module(by, of).lessons.all()]


def test_notes_change_once(tamsin):
    row, before = module(tamsin, "shots"), log.head(tamsin.venue).number

    assert publish.change_notes(by=tamsin, module=row, notes="Mind the glass.", at=NOW)
    assert not publish.change_notes(by=tamsin, module=row, notes="Mind the glass.", at=NOW)
    assert module(tamsin, "shots").notes == "Mind the glass."
    assert log.head(tamsin.venue).number == before + 1


def test_a_new_lesson_is_the_last_of_its_module(tamsin):
    add(tamsin)

    assert names(tamsin) == ["Ice is food", "Kegs"]
    assert log.check(tamsin.venue) == []


def test_two_lessons_may_have_one_title_but_not_one_address(tamsin):
    assert [add(tamsin).slug, add(tamsin, to="shots").slug] == ["kegs", "kegs-2"]


def test_a_lesson_moves_up_and_down_and_not_beyond(tamsin):
    kegs = add(tamsin)

    assert publish.move_lesson(by=tamsin, lesson=kegs, up=True, at=NOW)
    assert names(tamsin) == ["Kegs", "Ice is food"]
    assert not publish.move_lesson(by=tamsin, lesson=kegs, up=True, at=NOW)
    assert publish.move_lesson(by=tamsin, lesson=kegs, up=False, at=NOW)
    assert names(tamsin) == ["Ice is food", "Kegs"]


def test_a_lesson_goes_to_another_module_with_its_questions(tamsin):
    kegs = add(tamsin)
    publish.add_question(by=tamsin, lesson=kegs, question=KEG, at=NOW)
    publish.change_lesson(
        by=tamsin, lesson=kegs, module=module(tamsin, "beer"), name="Kegs", body="Two.", at=NOW
    )

    assert (names(tamsin), names(tamsin, "beer")) == (["Ice is food"], ["Kegs"])
    assert [s.question for s in Scenario.objects.of_module(module(tamsin, "beer"))] == [
        KEG.question
    ]


def test_a_lesson_is_removed_with_its_questions(tamsin):
    kegs = add(tamsin)
    publish.add_question(by=tamsin, lesson=kegs, question=KEG, at=NOW)

    publish.remove_lesson(by=tamsin, lesson=kegs, at=NOW)

    assert names(tamsin) == ["Ice is food"]
    assert Scenario.objects.of_module(module(tamsin)).count() == 1
    assert log.check(tamsin.venue) == []


LAST = {
    "with its lesson": lambda by: publish.remove_lesson(by=by, lesson=ice(by), at=NOW),
    "alone": lambda by: publish.remove_question(
        by=by, scenario=ice(by).scenarios.get(), at=NOW
    ),
    "to another module": lambda by: publish.change_lesson(
        by=by, lesson=ice(by), module=module(by, "beer"), name="Ice", body="Ice.", at=NOW
    ),
}  # fmt: skip


@pytest.mark.parametrize("take", LAST.values(), ids=LAST)
def test_a_gate_keeps_its_last_question(tamsin, take):
    with pytest.raises(Refused, match="last_of_a_gate"):
        take(tamsin)

    assert ice(tamsin).scenarios.count() == 1


@pytest.mark.parametrize("take", LAST.values(), ids=LAST)
def test_but_not_its_last_but_one(tamsin, take):
    publish.add_question(by=tamsin, lesson=add(tamsin), question=KEG, at=NOW)

    take(tamsin)

    assert Scenario.objects.of_module(module(tamsin)).count() == 1


def test_a_question_is_added_changed_and_removed(tamsin):
    row = publish.add_question(by=tamsin, lesson=ice(tamsin), question=KEG, at=NOW)
    assert publish.question_of(Scenario.objects.get(pk=row.pk)) == KEG

    three = replace(KEG, choices=(*KEG.choices, "Roll it"), right=1, critical=False)
    assert publish.change_question(by=tamsin, scenario=row, question=three, at=NOW)
    assert not publish.change_question(by=tamsin, scenario=row, question=three, at=NOW)
    assert publish.question_of(Scenario.objects.get(pk=row.pk)) == three

    publish.remove_question(by=tamsin, scenario=row, at=NOW)
    assert ice(tamsin).scenarios.count() == 1
    assert log.check(tamsin.venue) == []


ODD = [
    ({"choices": ("Only one",), "right": 0}, "too_few_choices", "choices"),
    ({"choices": tuple("abcdef")}, "too_many_choices", "choices"),
    ({"choices": ("Call", "call!", "Run")}, "choice_twice", "choices"),
    ({"right": 2}, "no_such_choice", "right"),
]


@pytest.mark.parametrize(("said", "code", "field"), ODD)
def test_an_odd_question_is_refused(tamsin, said, code, field):
    with pytest.raises(Refused, match=code) as refused:
        publish.add_question(by=tamsin, lesson=ice(tamsin), question=replace(KEG, **said), at=NOW)

    assert refused.value.field == field
    assert ice(tamsin).scenarios.count() == 1
