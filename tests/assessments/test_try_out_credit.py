"""What a try-out saves somebody is said to both, topic by topic; safety is never skipped."""

from __future__ import annotations

from functools import partial
from random import Random

import pytest

from assessments import record, record_quiz, record_set
from assessments.measures.quiz import ItemKind, shows
from assessments.measures.quiz.blueprint import Slot
from assessments.measures.quiz.one import drink_item
from assessments.measures.quiz.parts_of_it import sizes_asked
from assessments.measures.tryout import next_pour
from assessments.reads import modules_of
from assessments.showing_credit import STANDS, credit_shown
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import GATE, NOW, SEED


@pytest.fixture
def take(tamsin, nils):
    """A try-out taken, each question answered as `answering` says; its row."""

    def taken(answering):
        row = record_set.offer_try_out(by=tamsin, hire=nils, at=NOW)
        menu = make.menu_of(nils)
        quiz = record_quiz.start_try_out(by=nils, menu=menu, try_out=row, seed=SEED, at=NOW)
        while item := quiz.items.filter(answer__isnull=True).first():
            asked = make.asked_of(item)
            record.answer_item(by=nils, item=item, choice=answering(asked), at=NOW)
        row.refresh_from_db()
        return row

    return taken


def wrong_about_rule(menu, key):
    """Answers that are right but where this rule of the house is asked about."""
    [rule] = {t.fingerprint for d in menu.drinks for t in d.topics if t.rule == key}

    def answering(asked):
        return make.wrong(asked) if rule in asked.topics else make.right(asked)

    return answering


def pages(visit, tamsin, nils, row):
    """Where it is read: the hire's two pages, and the trainer's."""
    quiz = visit(nils).get(address(nils, "quiz_result", code=row.quiz.code))
    shift = visit(nils).get(address(nils, "next_shift"))
    trainer = visit(tamsin).get(address(tamsin, "try_out", code=nils.code))
    return [text(page) for page in (quiz, shift, trainer)]


def test_both_read_what_need_not_be_taught_any_more(visit, tamsin, nils, take):
    row = take(make.right)
    found = credit_shown(row, make.menu_of(nils))
    result, shift, trainer = pages(visit, tamsin, nils, row)

    assert found.known
    assert found.watch
    assert len(found.rules.known) > len(found.rules.to_teach) == 0
    for said in (result, shift, trainer):
        assert f"Need not be taught any more {', '.join(found.known[:8])} …" in said
        assert ", ".join(found.known) in said  # folded
        assert f"{len(found.rules.known)} of {found.rules.count} house rules known" in said
        assert all(rule in said for rule in found.rules.known)
        assert "Never skipped, whatever was shown: Service and safety." in said
    for said in (result, shift):
        assert f"Ask a trainer to watch you build: {found.watch_names}." in said
    assert "Nobody passes or fails a try-out" in result
    assert "not passed" not in result


def test_the_record_calls_a_try_out_neither_passed_nor_failed(visit, tamsin, nils, take):
    take(make.wrong)
    pages = [
        visit(nils).get(address(nils, "my_record")),
        visit(tamsin).get(address(tamsin, "hire_record", code=nils.code)),
    ]
    sheet = visit(nils).get(address(nils, "training_record_csv", code=nils.code))

    for page in pages:
        assert "Try-out" in text(page)
        assert "taken" in text(page)
    for page in (*pages, sheet):
        assert "not passed" not in page.content.decode()
    assert "taken" in sheet.content.decode()


def test_what_was_shown_needs_no_reading_first_but_safety_does(visit, nils, take):
    take(make.right)
    progress = {p.module.slug: p for p in modules_of(nils, make.menu_of(nils))}
    said = text(visit(nils).get(address(nils, "next_shift")))

    assert progress["highballs"].is_begun
    assert not progress[GATE].is_begun
    assert "Read Highballs" not in said
    assert "Read Service and safety" in said
    assert "Service and safety isn't passed yet. Nobody is ready without it." in said
    assert "Highballs 17 drinks shown in a try-out" in text(
        visit(nils).get(address(nils, "modules"))
    )


def test_who_knew_nothing_reads_as_everybody_does(visit, tamsin, nils, take):
    row = take(make.wrong)
    result, shift, trainer = pages(visit, tamsin, nils, row)

    assert "Welcome. Start here" in shift
    assert "Read Highballs" in shift
    for said in (result, shift, trainer):
        assert "No drink was all right." in said
        assert "Rules that will be taught" in said


def test_a_rule_answered_wrong_is_taught_by_name_with_all_its_drinks(nils, take):
    menu = make.menu_of(nils)
    row = take(wrong_about_rule(menu, "equal-mixers"))
    found = credit_shown(row, menu)
    users = {d.name for d in menu.drinks if "equal-mixers" in {t.rule for t in d.topics}}

    [rule] = [r for r in found.rules.to_teach if "in equal parts" in r]
    assert rule.startswith("Mixers, as in ")
    assert users & {name for name, _parts in found.to_teach}
    assert not users & set(found.known)


def test_it_stands_on_next_shift_for_a_while_and_on_the_result_for_good(
    visit, nils, take, time_machine
):
    row = take(make.right)
    time_machine.move_to(NOW + STANDS * 2, tick=False)

    assert "Need not be taught" not in text(visit(nils).get(address(nils, "next_shift")))
    result = visit(nils).get(address(nils, "quiz_result", code=row.quiz.code))
    assert "Need not be taught" in text(result)


def test_how_much_a_pour_is_is_asked_by_itself_and_never_taken_for_known(nils, take):
    row = take(make.right)
    menu = make.menu_of(nils)
    sizes = {t.fingerprint for d in menu.drinks for t in d.topics if t.is_pour_size}
    items = [make.asked_of(item) for item in row.quiz.items.all()]
    asked = [i for i in items if i.kind is ItemKind.AMOUNT]
    told = {t for i in asked for t in shows(i, make.right(i)) if t in sizes}

    can_be = {size.topic for d in menu.drinks for size in sizes_asked(d, menu.pantry)}
    assert told == can_be
    assert len(asked) == len(told)
    for item in items:
        if item.kind is not ItemKind.AMOUNT:
            assert not sizes & set(shows(item, make.right(item)))
    found = credit_shown(row, menu)
    assert sum("one pour of" in rule for rule in found.rules.known) == len(told)


def test_a_kind_of_pour_that_stands_in_mixed_drinks_only_is_asked_by_itself(nils):
    """Liqueur is poured beside a spirit: asked how much of it, the answer shows that kind alone."""
    menu = make.menu_of(nils)
    mixed = [d for d in menu.drinks if sum(t.is_pour_size for t in d.topics) > 1]
    kinds = {t.fingerprint: t.rule for d in menu.drinks for t in d.topics if t.is_pour_size}
    alone = {t.rule for d in menu.drinks if d not in mixed for t in d.topics if t.is_pour_size}
    only_mixed = {s.topic for d in mixed for s in sizes_asked(d, menu.pantry)}
    only_mixed = {topic for topic in only_mixed if kinds[topic] not in alone}
    assert only_mixed

    known = dict.fromkeys(set(kinds) - only_mixed, True)
    drink, size = next_pour(menu.drinks, known, partial(sizes_asked, pantry=menu.pantry))
    item = drink_item(drink, Slot(ItemKind.AMOUNT, None, critical=False), (), None, Random(1), size)

    assert item.prompt.values["ingredient"] == size.part.ingredient
    assert set(kinds) & set(shows(item, make.right(item))) == {size.topic}
    assert size.topic in only_mixed


def test_who_pours_another_house_s_measure_is_taught_it(nils, take):
    """Right in all but the size of a pour."""
    row = take(lambda i: make.wrong(i) if i.kind is ItemKind.AMOUNT else make.right(i))
    found = credit_shown(row, make.menu_of(nils))
    assert any("one pour of" in rule for rule in found.rules.to_teach)
    assert not any("one pour of" in rule for rule in found.rules.known)


def test_a_module_is_shown_where_its_must_knows_were_right(tamsin, nils, take):
    """One lucky answer shows no module, and the lesson stays the first thing to do."""
    lucky = []

    def once_right(item):
        if not lucky and item.recipe:
            lucky.append(item)
            return make.right(item)
        return make.wrong(item)

    take(once_right)
    assert [p.module.slug for p in modules_of(nils, make.menu_of(nils)) if p.is_tried] == []
    take(make.right)
    assert any(p.is_tried for p in modules_of(nils, make.menu_of(nils)))
