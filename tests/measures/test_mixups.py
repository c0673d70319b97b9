"""Which build is given for which drink."""

from assessments.measures.mixups import MixUp, mix_ups


def test_the_most_frequent_mix_up_comes_first():
    pairs = [
        ("madras", "sea-breeze"),
        ("sea-breeze", "madras"),
        ("madras", "bay-breeze"),
        ("madras", "sea-breeze"),
    ]

    assert mix_ups(pairs) == (
        MixUp("madras", "sea-breeze", 2),
        MixUp("madras", "bay-breeze", 1),
        MixUp("sea-breeze", "madras", 1),
    )


def test_what_is_no_mix_up_of_drinks_is_left_out():
    assert mix_ups([("madras", "madras"), (None, None), ("madras", None), (None, "madras")]) == ()
