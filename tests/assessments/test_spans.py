"""How sure a share is, in plain words."""

import pytest

from assessments.spans import of_hundred


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        (42, 61, "42 to 61 of 100"),
        (75, 100, "75 to 100 of 100"),
        (48, 100, "at least 48 of 100, perhaps all: so few can't say more"),
        (0, 52, "at most 52 of 100, perhaps none: so few can't say more"),
        (15, 95, "anything from 15 to 95 of 100: so few can't say more"),
        (0, 100, "anything from none to all: too few to say"),
    ],
)
def test_a_wide_span_is_told_in_words(low, high, said):
    assert of_hundred(low, high) == said


@pytest.mark.parametrize(("low", "high"), [(-1, 5), (7, 3), (50, 101)])
def test_what_is_no_part_of_a_hundred(low, high):
    with pytest.raises(ValueError, match="no part of a hundred"):
        of_hundred(low, high)
