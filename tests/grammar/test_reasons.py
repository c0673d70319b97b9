"""Reason values: comparable, hashable, without a word of any language."""

from recipes.grammar.reasons import CannotBuild, Reason


def test_the_order_in_which_values_are_named_does_not_matter():
    assert Reason.of("over_full", room_ml=1, glass="pint") == Reason.of(
        "over_full", glass="pint", room_ml=1
    )


def test_reasons_can_stand_in_a_set():
    assert len({Reason.of("a", n=1), Reason.of("a", n=1), Reason.of("a", n=2)}) == 2


def test_the_values_come_back_by_name():
    assert Reason.of("a", glass="pint", ml=3).values == {"glass": "pint", "ml": 3}


def test_a_refusal_names_every_reason_for_whoever_reads_the_log():
    refused = CannotBuild((Reason.of("no_alcohol"), Reason.of("unknown_glass", glass="boot")))
    assert [r.code for r in refused.reasons] == ["no_alcohol", "unknown_glass"]
    assert str(refused) == "no_alcohol {}; unknown_glass {'glass': 'boot'}"
