"""A board's drinks as columns tell the same as one fact a drink."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.history import aspects_bits
from assessments.measures.drink_facts import DrinkFact, ListedDrinks
from assessments.measures.waits import Waits
from assessments.sheet_drinks import SEALED, DrinksInColumns
from recipes.grammar.aspects import Aspect

DAY = dt.date(2026, 3, 14)
CHANCES = st.floats(0, 1, width=32)
TRIALS = st.tuples(*[st.sampled_from([0.0, 0.5, 1.0, 3.0])] * 3)
DRINKS = st.lists(
    st.tuples(st.sampled_from([0.0, 0.1, 0.4]), st.booleans(), TRIALS, st.sampled_from([0, 1, 2]),
              CHANCES, CHANCES, st.booleans()),
    max_size=6,
)  # fmt: skip


class Poured:
    """What `sheet_drinks.Poured` tells of a menu, without a house."""

    def __init__(self, said, modules):
        from assessments.measures.drink_facts import sales_weights

        self.said, self.modules, self.items = said, modules, said
        self.places = {slug: place for place, (slug, *_rest) in enumerate(said)}
        self.must_knows = [place for place, one in enumerate(said) if one[3]]
        self.weights = sales_weights([one[2] for one in said])
        self.weighed = np.array(self.weights)


def both(rows):
    """The columns, and one fact each put together here."""
    said = [(f"d{n}", f"Drink {n}", share, must) for n, (share, must, *_) in enumerate(rows)]
    waits = {f"d{n}": Waits(f"b{n}", "Tamsin", "T", DAY) for n, row in enumerate(rows) if row[6]}
    modules = ["Highballs"] * len(rows)
    columns = DrinksInColumns(
        Poured(said, modules),
        np.array([row[2] for row in rows], dtype=np.float32).reshape(-1, 3),
        np.array([row[3] for row in rows], dtype=np.uint8),
        np.array([row[4] for row in rows], dtype=float),
        np.array([row[5] for row in rows], dtype=float),
        waits,
    )
    facts = [
        DrinkFact(*one, *row[2], *SEALED[row[3]], "Highballs", row[4], row[5], waits.get(one[0]))
        for one, row in zip(said, rows, strict=True)
    ]
    return columns, ListedDrinks(facts)


@given(DRINKS)
def test_columns_tell_what_the_facts_tell(rows):
    columns, listed = both(rows)

    assert columns == listed == tuple(listed)
    assert len(columns) == len(listed) == len(rows)
    assert columns.must_knows == listed.must_knows
    assert columns.has_must_knows == listed.has_must_knows == any(row[1] for row in rows)
    assert columns.unproven == listed.unproven
    assert columns.waiting == listed.waiting
    assert columns.weights == listed.weights
    assert columns.won == pytest.approx(listed.won)
    assert columns.seen == listed.seen
    assert columns.comes_right == listed.comes_right
    for fact in listed:
        assert columns.by_slug(fact.slug) == listed.by_slug(fact.slug) == fact


def test_of_a_drink_that_is_not_poured_nothing_is_told():
    columns, listed = both([(0.1, True, (1.0, 0.0, 0.0), 1, 0.5, 0.6, False)])
    for one in (columns, listed):
        with pytest.raises(KeyError):
            one.by_slug("nothing")


@pytest.mark.parametrize("changed", [(), (Aspect.GLASS,), (Aspect.POURS, Aspect.METHOD)])
def test_a_sign_off_and_what_changed_since_go_into_a_byte_and_out(changed):
    from assessments.ready_rows import SIGNED

    assert SEALED[SIGNED | aspects_bits(changed)] == (True, changed)
    assert SEALED[0] == (False, ())
