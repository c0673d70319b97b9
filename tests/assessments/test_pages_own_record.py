"""The house's own record: which builds count, what is kept, and its page."""

import datetime as dt

import pytest
import time_machine

from assessments import board, own_history, record
from assessments.history import Numbered
from assessments.measures.house_miss import LEAST, NO_MISS, Case, Miss
from assessments.models import OwnRecord
from assessments.models.practical import Came
from assessments.showing_record import _kinds, board_says
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.hands import spot
from tests.factories.people import hire as hire_somebody

DAY = dt.timedelta(days=1)
TOMORROW = LATER + DAY


@pytest.fixture
def few(monkeypatch):
    """So few builds are enough."""
    for module in ("house_miss", "own_record"):
        monkeypatch.setattr(f"assessments.measures.{module}.LEAST", 4)
    monkeypatch.setattr(own_history, "LEAST", 4)


def build(trainer, hire, *, right=0, wrong=0, at=NOW):
    for n in range(right + wrong):
        off = () if n < right else ("top:orange-juice",)
        make.watch(trainer, hire, "madras", off=off, at=at + dt.timedelta(minutes=n))


def cases(member, at=TOMORROW, now=TOMORROW):
    return own_history.cases_of(make.menu_of(member, at), now)


def miss(member, at=TOMORROW):
    return own_history.miss_of_house(Numbered(make.menu_of(member, at)), at)


def test_what_came_until_yesterday_counts(few, odalys, tamsin, nils):
    build(tamsin, nils, right=3, wrong=2)
    spot(tamsin, nils, "gin-tonic", came=Came.MENDED, at=NOW)

    assert cases(odalys, at=LATER, now=LATER) == []
    found = cases(odalys)
    assert sorted(c.came for c in found) == ["ask", "right", "right", "right", "wrong", "wrong"]
    assert [c.came for c in found if not c.chosen] == ["ask"]
    assert all(c.right + c.ask + c.wrong == pytest.approx(1, abs=2e-4) for c in found)


def test_for_a_coming_shift_what_came_until_today_counts(few, odalys, tamsin, nils):
    build(tamsin, nils, right=5)

    assert cases(odalys, at=LATER + 9 * DAY, now=LATER) == []
    assert len(cases(odalys, at=LATER + 9 * DAY, now=TOMORROW)) == 5


def test_voided_builds_and_drinks_that_have_changed_are_left_out(few, odalys, tamsin, nils):
    build(tamsin, nils, right=5)
    voided = make.watch(tamsin, nils, "madras")
    record.void_build(by=tamsin, watched=voided, reason="x", at=NOW)
    make.watch(tamsin, nils, "gin-tonic")

    assert len(cases(odalys)) == 6
    make.lemon_in_tonic(tamsin, at=NOW)
    assert len(cases(odalys)) == 5


def test_nobody_else_s_house_counts(few, odalys, tamsin, nils, ravna):
    build(tamsin, nils, right=5)

    assert cases(ravna) == []


def test_too_few_are_not_even_replayed(odalys, tamsin, nils, django_assert_num_queries):
    build(tamsin, nils, right=5)
    numbered = Numbered(make.menu_of(odalys, TOMORROW))
    assert numbered.print

    with django_assert_num_queries(5):  # look, two kinds of build, away with old ones, keep
        found = own_history.miss_of_house(numbered, TOMORROW)
    assert found == NO_MISS


def test_one_query_until_the_day_or_the_menu_is_another(
    few, odalys, tamsin, nils, django_assert_num_queries
):
    build(tamsin, nils, right=5)
    numbered = Numbered(make.menu_of(odalys, TOMORROW))
    before = own_history.miss_of_house(numbered, TOMORROW)
    build(tamsin, nils, wrong=5, at=TOMORROW)

    with django_assert_num_queries(1):
        assert own_history.miss_of_house(numbered, TOMORROW) == before
    assert len(cases(odalys)) == 5
    assert len(cases(odalys, at=TOMORROW + DAY, now=TOMORROW + DAY)) == 10
    assert OwnRecord.objects.count() == 1


def test_what_is_kept_is_what_reckoning_it_anew_says(few, odalys, tamsin, nils):
    build(tamsin, nils, right=2, wrong=6)
    kept = cases(odalys), miss(odalys)
    OwnRecord.objects.all().delete()

    assert (cases(odalys), miss(odalys)) == kept


def test_where_the_figures_promise_too_much_the_board_is_wider(few, odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    for hire in (nils, bo):
        make.take_quiz(hire)
        build(tamsin, hire, wrong=9, at=NOW + dt.timedelta(hours=1))
    well = odalys.venue.stations.get(slug="well")
    menu = make.menu_of(odalys, TOMORROW)
    with time_machine.travel(TOMORROW):
        [row] = board.board(well, menu, [nils])
        assert miss(odalys).down > 0
        OwnRecord.objects.update(down=0.0, up=0.0)
        [plain] = board.board(well, menu, [nils])

    assert row.right_low < plain.right_low
    assert row.right == plain.right
    assert row.orders.right.high == pytest.approx(plain.orders.right.high)
    assert row.orders.wrong.high > plain.orders.wrong.high


def a_month(odalys, tamsin, *, right):
    """Five hires who answer nearly all right, then nine builds each, `right` of them right."""
    hires = [hire_somebody(odalys, name) for name in ("Ana", "Bo", "Cy", "Dee", "Eli")]
    for hire in hires:
        make.take_quiz(hire)
        build(tamsin, hire, right=right, wrong=9 - right, at=NOW + dt.timedelta(hours=1))
    return hires


def test_a_house_whose_builds_belie_the_figures_reads_it_on_both_pages(
    visit, odalys, marek, tamsin
):
    """With as many builds as it really takes: what was said beforehand is well above what came."""
    hires = a_month(odalys, tamsin, right=2)
    well, menu = odalys.venue.stations.get(slug="well"), make.menu_of(odalys, TOMORROW)
    held = cases(odalys)
    with time_machine.travel(TOMORROW, tick=False):
        page, shown = text(look(visit, marek)), text(visit(marek).get(board_of(marek)))
        [row, *_] = board.board(well, menu, hires)
        figures = row.orders
        OwnRecord.objects.update(down=0.0, up=0.0)
        [plain, *_] = board.board(well, menu, hires)
        after = text(visit(marek).get(board_of(marek)))

    assert len(held) == 45 >= LEAST
    assert sum(c.right for c in held) > sum(c.came_right for c in held) + 9
    assert "The figures promise too much here: of 45 builds" in page
    assert "So every span is drawn wider here" in page
    assert "Builds in this house came right less often than the figures had said" in shown
    assert "came right less often" not in after
    assert figures.right.low < plain.orders.right.low - 0.02
    assert figures.wrong.high > plain.orders.wrong.high + 0.02
    assert figures.right.mean == plain.orders.right.mean


def test_a_house_whose_builds_bear_the_figures_out_reads_so(visit, odalys, marek, tamsin):
    a_month(odalys, tamsin, right=8)
    with time_machine.travel(TOMORROW, tick=False):
        page, shown = text(look(visit, marek)), text(visit(marek).get(board_of(marek)))

    assert miss(odalys) == NO_MISS
    assert "So the spans on the board stand as they are." in page
    assert "than the evidence alone" not in shown


@pytest.mark.parametrize(
    ("off", "says"),
    [
        (NO_MISS, ""),
        (Miss(0.5, 0.1), "less often"),
        (Miss(0.1, 0.5), "more often"),
        (Miss(0.3, 0.3), "differ more"),
    ],
)
def test_the_board_says_on_which_side_it_is_wider(off, says):
    said = board_says(off)
    assert bool(said) == bool(says)
    assert says in said


def board_of(member):
    return address(member, "who_is_ready")


def test_a_row_of_the_table_says_both_sides(few, odalys, tamsin, nils):
    build(tamsin, nils, right=4)
    miss(odalys)
    OwnRecord.objects.update(down=0.5, up=0.25)

    assert miss(odalys) == Miss(0.5, 0.25)
    assert miss(odalys).of_the_rest == Miss(0.25, 0.5)


def look(visit, member):
    with time_machine.travel(TOMORROW, tick=False):
        return visit(member).get(address(member, "own_record"))


@pytest.mark.parametrize(
    ("stated", "right", "says"),
    [
        (0.5, 20, "more came than chance explains"),
        (0.9, 2, "fewer came than chance explains"),
        (0.5, 10, ""),
        (0.7, 10, ""),  # 27 to 73 of 100
    ],
)
def test_a_row_beyond_chance_says_so(stated, right, says):
    rest = (1 - stated) / 2
    cases = [
        Case(n, stated, rest, rest, came="right" if n < right else "wrong", chosen=True)
        for n in range(20)
    ]

    [line] = _kinds(cases)
    assert (line.came, line.off) == (5 * right, says)


def test_the_page_says_that_there_are_too_few(visit, marek, tamsin, nils):
    build(tamsin, nils, right=5)
    shown = text(look(visit, marek))

    assert "Too few to say: 5 builds can be held against" in shown
    assert f"it takes {LEAST}." in shown
    assert "stand as they are" in shown
    assert "local law decides" in shown


def test_the_page_shows_plot_table_and_what_is_made_of_it(few, visit, marek, tamsin, nils):
    make.take_quiz(nils)
    build(tamsin, nils, wrong=12, at=NOW + dt.timedelta(hours=1))
    page = look(visit, marek)
    shown = text(page)

    assert "The figures promise too much here: of 12 builds" in shown
    assert "what would be 74 to 86 is shown as" in shown
    assert "Chance alone would do as much in about one house in ten" in shown
    assert page.content.decode().count("<circle") == len(page.context["whole"].bins)
    assert "the trainer, to watch" in shown
    assert "guests, in service" not in shown
    [_, _, wrong] = page.context["whole"].outcomes
    assert (wrong.count, wrong.came, wrong.low) == (12, 100, 73)


def test_who_works_the_floor_has_no_such_page(visit, tamsin, nils):
    for member in (tamsin, nils):
        assert visit(member).get(address(member, "own_record")).status_code == 403


def test_the_board_leads_there_for_whoever_may(visit, marek, tamsin, nils):
    said = {m: visit(m).get(address(m, "who_is_ready")).content.decode() for m in (marek, tamsin)}

    assert address(marek, "own_record") in said[marek]
    assert address(tamsin, "own_record") not in said[tamsin]
