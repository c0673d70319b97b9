"""The ticket of a pace check on paper."""

import pytest

from barcourse.papers.ticket import facts_of, ticket_pdf
from tests.factories import assessments as make
from tests.factories import hands
from tests.papers.sheets import pages_of, text_of, ticket_facts


def test_it_lists_every_order_and_what_to_count():
    text = text_of(ticket_pdf(ticket_facts()))

    for words in (
        "Hire",
        "Date",
        "Trainer",
        "Well, ticket 7",
        "4 drinks",
        "2 × Sea Breeze",
        "Gin tonic",
        "Rung up wrong",
    ):
        assert words in text
    assert "rung up and paid" in text


def test_without_a_till_nothing_is_rung_up():
    assert "nothing is rung up" in text_of(ticket_pdf(ticket_facts(rung_up=False)))


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_twelve_orders_fit_a_page(size):
    orders = (((1, "Sea Breeze"), (1, "Madras")),) * 12

    assert pages_of(ticket_pdf(ticket_facts(orders=orders, size=size))) == 1


def test_it_is_the_ticket_of_the_seed(tamsin):
    facts = facts_of(hands.ticket(tamsin), make.menu_of(tamsin))

    drawn = hands.ticket(tamsin)
    assert facts.drinks == drawn.count
    assert facts.number == drawn.seed
    assert facts == facts_of(hands.ticket(tamsin), make.menu_of(tamsin))


def test_the_page_and_the_paper_agree(visit, tamsin, nils):
    query = {"station": "well", "seed": "5", "orders": "6", "rung_up": "yes"}
    path = f"/h/{tamsin.venue.slug}"
    browser = visit(tamsin)

    lines = browser.get(f"{path}/watch/pace/{nils.code}/", query).context["lines"]
    paper = text_of(browser.get(f"{path}/papers/ticket.pdf", query).content)
    assert all(name in paper for line in lines for _count, name in line.drinks)


@pytest.mark.parametrize("query", [{"seed": "x"}, {"station": "attic"}, {"orders": "0"}])
def test_no_such_ticket(visit, tamsin, query):
    assert visit(tamsin).get(f"/h/{tamsin.venue.slug}/papers/ticket.pdf", query).status_code == 404
