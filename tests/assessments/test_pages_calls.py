"""Call practice on screen: one form a call without a script, verdicts, and a run that goes on
where it was left."""

import datetime as dt
import re

import pytest
from django.urls import reverse
from django.utils import timezone

from assessments import record_calls
from assessments.measures.call_marking import DrinkGiven
from assessments.measures.call_writing import CallKind
from assessments.models import CallAnswer, CallResult, CallRun
from assessments.showing import Naming
from assessments.telling_calls import tell_call
from recipes.grammar.calls import About
from recipes.menu import menu_at
from tests.assessments.pages import address, fields, send_twice, text
from tests.factories import calls as make
from tests.factories.assessments import NOW

pytestmark = pytest.mark.django_db


def begin(browser, hire, kind="single"):
    answer = browser.send(address(hire, "call_start"), {"kind": kind})
    run = CallRun.objects.of(hire).newest_first().first()
    assert answer.url == address(hire, "call_run", code=run.code)
    return run, answer.url


def drinks_of(run):
    return make.asked_of(run.calls.filter(answer__isnull=True).first()).drinks


def send(browser, path, run, building=make.right):
    shown = browser.get(path)
    sent = {**fields(shown), **make.sent(drinks_of(run), building)}
    return browser.send(path, sent)


def test_it_offers_single_calls_rounds_and_a_rush(visit, nils):
    page = text(visit(nils).get(address(nils, "call_practice")))

    for said in ("One drink at a time", "Whole rounds", "A rush of twenty", "Begin"):
        assert said in page


def test_a_single_call_is_built_and_told_at_once(visit, nils):
    browser = visit(nils)
    run, path = begin(browser, nils)
    shown = browser.get(path)
    asked = make.asked_of(run.calls.first())
    page = text(shown)
    assert " ".join(asked.text.split()) in page
    assert "I'd ask a colleague" in page
    assert "What do you ask back?" in page
    assert "1 of 5" in page

    answer = send(browser, path, run)

    told = browser.get(answer.url)
    assert "Right." in text(told)
    assert "Next call" in text(told)
    assert CallAnswer.objects.get().milliseconds is not None


def test_what_was_wrong_stands_beside_what_is_right(visit, nils):
    browser = visit(nils)
    run, path = begin(browser, nils)

    told = text(browser.get(send(browser, path, run, make.wrong).url))

    assert "Not what was called." in told
    assert "You:" in told


def test_asking_a_colleague_needs_no_choice(visit, nils):
    browser = visit(nils)
    run, path = begin(browser, nils)

    told = text(browser.get(send(browser, path, run, make.ask).url))

    assert "Asked: safe, but not yet alone." in told


def test_a_rush_goes_straight_on_and_is_told_at_the_end(visit, nils):
    browser = visit(nils)
    run, path = begin(browser, nils, "rush")
    for number in range(20):
        answer = send(browser, path, run, make.wrong if number == 3 else make.right)
        assert answer.url == path

    assert browser.get(path).url == address(nils, "call_result", code=run.code)
    page = text(browser.get(path, follow=True))
    assert "19 of 20 right" in page
    assert "To look at again" in page
    assert CallResult.objects.get(run=run).right == 19


def test_a_closed_tab_goes_on_where_it_was(visit, nils):
    browser = visit(nils)
    run, path = begin(browser, nils)
    send(browser, path, run)

    page = text(visit(nils).get(address(nils, "call_practice")))
    assert "Go on" in page
    assert begin(visit(nils), nils)[0] == run
    assert "2 of 5" in text(visit(nils).get(path))


@pytest.mark.parametrize(("minutes", "said"), [(5, True), (0, False)])
def test_who_comes_back_to_a_rush_hears_that_the_clock_went_on(visit, nils, minutes, said):
    at = timezone.now() - dt.timedelta(minutes=minutes)
    path = address(nils, "call_run", code=make.start(nils, at, CallKind.RUSH).code)
    others = address(nils, "call_run", code=make.start(nils, at, CallKind.SINGLE).code)

    assert ("the clock went on" in text(visit(nils).get(path))) is said
    assert "the clock went on" not in text(visit(nils).get(others))


def rush_of_an_hour_ago(nils, answered=2):
    at = timezone.now() - dt.timedelta(hours=1)
    run = make.start(nils, at, CallKind.RUSH)
    for call in run.calls.select_related("run")[:answered]:
        given = [make.right(d) for d in make.asked_of(call).drinks]
        record_calls.answer_call(by=nils, call=call, given=given, at=at)
    return run, address(nils, "call_run", code=run.code)


def test_a_rush_whose_time_is_up_says_so_and_what_was_answered_counts(visit, nils):
    run, path = rush_of_an_hour_ago(nils)
    browser = visit(nils)

    page = browser.get(path)

    assert "The time for these calls was up" in text(page)
    assert "18 calls were still open" in text(page)
    assert "What do you ask back?" not in text(page)
    there = address(nils, "call_result", code=run.code)
    assert browser.send(path, fields(page)).url == there
    result = text(browser.get(there))
    assert "2 of 20 right" in result
    assert "Not answered" in result
    assert "18 calls that were not answered" in result
    assert browser.get(path).url == there
    assert "2 right, 0 asked, 0 wrong, 18 not answered" in text(
        browser.get(address(nils, "call_practice"))
    )


def test_an_answer_that_comes_too_late_for_a_rush_closes_it_unmarked(visit, nils):
    browser = visit(nils)
    run, path = begin(browser, nils, "rush")
    sent = {**fields(browser.get(path)), **make.sent(drinks_of(run))}
    CallRun.objects.filter(pk=run.pk).update(started_at=timezone.now() - dt.timedelta(hours=1))

    once, again = send_twice(browser, path, sent)

    assert once.url == again.url == address(nils, "call_result", code=run.code)
    assert not CallAnswer.objects.exists()
    assert CallResult.objects.get(run=run).right == 0


def test_a_rush_that_is_over_is_not_gone_on_with(visit, nils):
    run, _path = rush_of_an_hour_ago(nils)
    browser = visit(nils)
    page = text(browser.get(address(nils, "call_practice")))
    assert "Go on" not in page
    assert "after 30 minutes at the latest" in page

    answer = browser.send(address(nils, "call_start"), {"kind": "rush"})

    assert answer.url != address(nils, "call_run", code=run.code)
    assert CallResult.objects.get(run=run).right == 2


def test_half_a_build_comes_back_with_what_was_chosen(visit, nils):
    browser = visit(nils)
    run, path = begin(browser, nils)
    whole = {**fields(browser.get(path)), **make.sent(drinks_of(run))}
    half = {k: v for k, v in whole.items() if k != "d0-glass"}

    answer = browser.send(path, half)

    assert "Choose something for every part of it" in text(answer)
    assert answer.content.decode().count(" checked") >= 4
    assert not CallAnswer.objects.exists()


def test_half_a_round_names_each_part_that_is_missing_and_leads_there(visit, nils):
    browser = visit(nils)
    run, path = begin(browser, nils, "round")
    whole = {**fields(browser.get(path)), **make.sent(drinks_of(run))}
    half = {k: v for k, v in whole.items() if k not in ("d0-count", "d1-glass", "d1-ask")}

    answer = browser.send(path, half)

    missing = [(m.number, m.name, m.label) for m in answer.context["missing"]]
    assert (1, "d0-count", "How many") in missing
    assert (2, "d1-glass", "Glass") in missing
    page = answer.content.decode()
    for _number, name, _label in missing:
        assert page.count(f'href="#{name}"') == page.count(f'id="{name}"') == 1
    assert not CallAnswer.objects.exists()


@pytest.mark.parametrize("kind", list(CallKind))
def test_every_call_asks_how_many_first_and_a_wrong_number_is_told(visit, nils, kind):
    browser = visit(nils)
    run, path = begin(browser, nils, kind.value)
    page = text(browser.get(path))
    assert page.index("How many?") < page.index("What do you ask back?")
    drink = drinks_of(run)[0]
    sent = {**fields(browser.get(path)), **make.sent(drinks_of(run))}

    browser.send(path, {**sent, "d0-count": drink.count % 4 + 1})

    answer = CallAnswer.objects.select_related("call").get()
    [line, *_] = tell_call(answer.call, Naming.of(menu_at(nils.venue, NOW))).drinks[0].lines
    assert (line.right, line.said) == (str(drink.count), str(drink.count % 4 + 1))
    assert (line.came, answer.came) == ("wrong", "wrong")


@pytest.mark.parametrize("many", ["", "0", "5", "-1", "x", "⁵", "999"])
def test_how_many_that_nobody_offered_is_refused(visit, nils, many):
    browser = visit(nils)
    run, path = begin(browser, nils)
    sent = {**fields(browser.get(path)), **make.sent(drinks_of(run)), "d0-count": many}

    assert "Choose something" in text(browser.send(path, sent))


@pytest.mark.parametrize("glass", ["99", "-2", "x", "⁵", "", "none"])
def test_a_choice_that_nobody_offered_is_refused(visit, nils, glass):
    browser = visit(nils)
    run, path = begin(browser, nils)
    sent = {**fields(browser.get(path)), **make.sent(drinks_of(run)), "d0-glass": glass}

    assert "Choose something" in text(browser.send(path, sent))


def test_sent_twice_counts_once(visit, nils):
    browser = visit(nils)
    run, path = begin(browser, nils)
    sent = {**fields(browser.get(path)), **make.sent(drinks_of(run))}

    once, again = send_twice(browser, path, sent)

    assert (once.status_code, again.status_code) == (302, 302)
    assert CallAnswer.objects.count() == 1


def test_an_answer_to_a_call_that_is_answered_in_another_tab_is_refused(visit, nils):
    browser = visit(nils)
    run, path = begin(browser, nils, "rush")
    late = {**fields(browser.get(path)), **make.sent(drinks_of(run))}
    send(browser, path, run, make.wrong)

    answer = browser.send(path, late)

    assert answer.status_code == 409
    assert "That one is answered already" in text(answer)
    assert path in answer.content.decode()
    assert [a.came for a in CallAnswer.objects.all()] == ["wrong"]


@pytest.mark.parametrize("shown", ["of another call", "of another run", "", "12:forged"])
def test_what_was_built_on_another_page_is_no_answer(visit, nils, shown):
    browser = visit(nils)
    run, path = begin(browser, nils)
    stamp = fields(browser.get(path))["shown"]
    if shown == "of another run":
        stamp = fields(browser.get(begin(browser, nils, "rush")[1]))["shown"]
    elif shown == "of another call":
        send(browser, path, run)
    else:
        stamp = shown
    answered = CallAnswer.objects.count()
    sent = {**fields(browser.get(path)), **make.sent(drinks_of(run)), "shown": stamp}

    answer = browser.send(path, sent)

    assert answer.status_code == 409
    assert "That is not the call that is open" in text(answer)
    assert CallAnswer.objects.count() == answered


@pytest.mark.parametrize("call", ["2", "5", "99", "0", "-1", "x", "⁵", "99999", ""])
def test_the_number_of_another_call_or_of_none_is_told_as_that(visit, nils, call):
    browser = visit(nils)
    run, path = begin(browser, nils)
    sent = {**fields(browser.get(path)), **make.sent(drinks_of(run)), "call": call}

    answer = browser.send(path, sent)

    assert answer.status_code == 409
    assert "That is not the call that is open" in text(answer)
    assert path in answer.content.decode()
    assert not CallAnswer.objects.exists()


def test_sound_is_kept_for_one_person(visit, nils):
    browser = visit(nils)
    _run, path = begin(browser, nils)

    assert f'data-sound="{nils.code}"' in browser.get(path).content.decode()


def test_a_call_without_a_signal_can_say_so(visit, nils):
    browser = visit(nils)
    _run, path = begin(browser, nils)

    page = browser.get(path).content.decode()

    assert "data-no-signal" in page
    assert "js/no_signal" in page


def test_of_a_poor_rush_the_first_five_lie_open_and_the_rest_is_folded(visit, nils):
    run = make.build(make.start(nils, NOW, CallKind.RUSH), NOW, make.wrong)

    page = visit(nils).get(address(nils, "call_result", code=run.code)).content.decode()

    assert page.count('<details class="fold"><summary>What was missed') == 15
    assert page.count('<details class="fold" open><summary>What was missed') == 5


def mixed():
    """Some right, some handed on, some with nothing but the number wrong."""
    made = iter([*[make.right] * 15, *[make.ask] * 2, *[one_more] * 3])

    def build(drink):
        return next(made)(drink)

    return build


def one_more(drink):
    given = make.right(drink)
    return DrinkGiven(given.parts, given.ask, given.count % 4 + 1)


def test_a_rush_is_told_part_by_part_and_only_what_was_not_right_lies_open(visit, nils):
    run = make.build(make.start(nils, NOW, CallKind.RUSH), NOW, mixed())

    answer = visit(nils).get(address(nils, "call_result", code=run.code))

    tallies = {p.label: (p.right, p.ask, p.wrong) for p in answer.context["parts"]}
    assert list(tallies)[:3] == ["How many", "Ask back", "Glass"]
    assert tallies.pop("How many") == (15, 2, 3)
    assert tallies["Glass"] == (18, 2, 0)
    assert all((ask, wrong) == (2, 0) or right + ask < 20 for right, ask, wrong in tallies.values())
    page = text(answer)
    for said in ("15 of 20 right", "4 seconds", "15 calls built right"):
        assert said in page
    assert "A typical call Half of the calls took no longer." in page
    assert "On the clock From the first call to the last answer." in page
    assert page.index("To look at again") < page.index("Part by part")
    lies_open = re.sub(
        r"<details class=\"fold\">.*?</details>", "", answer.content.decode(), flags=re.DOTALL
    )
    assert lies_open.count("You: ") == 3, "the number alone"
    assert lies_open.count("Not what was called.") == 3
    assert lies_open.count("safe, but not yet alone") == 2


def test_in_a_rush_nothing_is_told_before_its_end(visit, nils):
    browser = visit(nils)
    run, path = begin(browser, nils, "rush")
    send(browser, path, run, make.wrong)

    shown = browser.get(f"{path}?told=1")

    assert shown.status_code == 200
    assert b"verdict" not in shown.content
    assert "2 of 20" in text(shown)


def test_an_open_drink_is_told_by_what_is_open(visit, nils):
    """Seeds until something that may be several drinks is called."""
    found = None
    for seed in range(60):
        run = make.start(nils, NOW, CallKind.SINGLE, seed)
        asked = [make.asked_of(c).drinks[0] for c in run.calls.all()]
        make.build(run, NOW)
        found = next((d for d in asked if {About.DRINK, About.BASE} & set(d.ask)), None)
        if found:
            break
    assert found
    row = next(c for c in run.calls.select_related("answer")
               if make.asked_of(c).drinks[0] == found)  # fmt: skip

    told = tell_call(row, Naming.of(menu_at(nils.venue, NOW)))

    what = {About.DRINK: "which drink", About.BASE: "base"}[found.ask[0]]
    assert [d.name for d in told.drinks] == [f"Open: {what}"]


def test_the_list_tells_the_business_day_alone(visit, nils, time_machine):
    after_midnight = dt.datetime.combine(NOW.date(), dt.time(9, 30), dt.UTC)
    time_machine.move_to(after_midnight, tick=False)
    make.build(make.start(nils, after_midnight), after_midnight)

    page = text(visit(nils).get(address(nils, "call_practice")))

    assert "after midnight" not in page
    assert f"{nils.venue.business_day(after_midnight):%B %-d, %Y}" in page


@pytest.mark.parametrize("kind", ["", "everything"])
def test_a_kind_that_does_not_exist_is_404(visit, nils, kind):
    assert visit(nils).send(address(nils, "call_start"), {"kind": kind}).status_code == 404


@pytest.mark.parametrize(
    ("query", "status"),
    [("?told=1", 200), ("?told=9", 404), ("?told=x", 404), ("?told=99999", 404)],
)
def test_telling_of_a_call_that_is_not_answered_tells_nothing(visit, nils, query, status):
    browser = visit(nils)
    _run, path = begin(browser, nils)

    answer = browser.get(path + query)

    assert answer.status_code == status
    assert b"verdict" not in answer.content


def test_a_run_of_somebody_else_is_404_and_an_open_one_has_no_result(visit, nils, pia):
    run = make.start(nils, NOW, CallKind.ROUND)

    assert visit(pia).get(address(pia, "call_run", code=run.code)).status_code == 404
    answer = visit(nils).get(address(nils, "call_result", code=run.code))
    assert answer.url == address(nils, "call_run", code=run.code)


def test_neither_the_seed_nor_what_is_right_is_on_the_page(visit, nils):
    browser = visit(nils)
    run, path = begin(browser, nils)

    page = browser.get(path).content.decode()
    assert str(run.seed) not in page
    drink = make.asked_of(run.calls.first()).drinks[0]
    assert not drink.build or drink.build not in page
    assert reverse("calls", kwargs={"house": nils.venue.slug}) not in page
