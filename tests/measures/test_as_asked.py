"""A sequence that is worked out no further than somebody looks."""

import pytest
from django.template import Context, Template

from assessments.measures.as_asked import AsAsked


def counted(values):
    """The sequence, and what was drawn for it so far."""
    drawn = []

    def source():
        for value in values:
            drawn.append(value)
            yield value

    return AsAsked(source()), drawn


@pytest.mark.parametrize(
    ("look", "found", "drawn"),
    [
        (bool, True, 1),
        (lambda s: s[0], "a", 1),
        (lambda s: (s[1], s[0], s[1]), ("b", "a", "b"), 2),
        (len, 3, 3),
        (list, ["a", "b", "c"], 3),
        (lambda s: s[-1], "c", 3),
        (lambda s: s[1:], ("b", "c"), 3),
        (lambda s: "b" in s, True, 2),
        (lambda s: s == ("a", "b", "c"), True, 3),
        (lambda s: s == ("a", "b"), False, 3),
        (lambda s: hash(s) == hash(("a", "b", "c")), True, 3),
    ],
)
def test_no_more_is_drawn_than_is_looked_at(look, found, drawn):
    several, so_far = counted("abc")

    assert look(several) == found
    assert so_far == list("abc")[:drawn]
    assert list(several) == list("abc")  # looking again draws nothing twice
    assert so_far == list("abc")


def test_two_who_look_at_once_see_the_same():
    several, so_far = counted("abc")

    assert list(zip(several, several, strict=True)) == [("a", "a"), ("b", "b"), ("c", "c")]
    assert so_far == list("abc")


def test_a_template_that_shows_the_first_draws_no_other():
    several, so_far = counted("abc")

    assert Template("{% if s %}{{ s.0 }}{% endif %}").render(Context({"s": several})) == "a"
    assert so_far == ["a"]


def test_of_nothing():
    nothing, _drawn = counted("")

    assert (bool(nothing), len(nothing), nothing == ()) == (False, 0, True)
    with pytest.raises(IndexError):
        nothing[0]
