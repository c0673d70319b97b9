"""The share of a glass that its ice takes, from a measured fill of water."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.rules import DEFAULT_ICE_SHARE, GlassRule
from recipes.grammar.rules_ice import CODES, calibrated, ice_share
from recipes.grammar.units import Unit


@pytest.mark.parametrize(
    ("capacity", "water", "share"),
    [(300, 150, 0.5), (300, 120, 0.6), (400, 100, 0.75), (300, 299, 1 / 300)],
)
def test_what_is_not_water_is_ice(capacity, water, share):
    assert ice_share(capacity, water) == pytest.approx(share)


@pytest.mark.parametrize(
    ("water", "reason"),
    [
        (0, Reason.of("ice_without_water")),
        (-5, Reason.of("ice_without_water")),
        (300, Reason.of("ice_not_there", ml=300, room_ml=300)),
        (301, Reason.of("ice_not_there", ml=301, room_ml=300)),
    ],
)
def test_what_can_not_be_is_refused(water, reason):
    with pytest.raises(CannotBuild) as caught:
        ice_share(300, water)

    assert caught.value.reasons == (reason,)


def test_every_code_is_given():
    assert {"ice_without_water", "ice_not_there"} == CODES


@given(st.floats(20, 2000), st.floats(0.001, 0.999))
def test_ice_and_water_fill_the_glass(capacity, part):
    share = ice_share(capacity, capacity * part)

    assert 0 < share < 1
    assert capacity * share + capacity * part == pytest.approx(capacity)


@given(st.floats(20, 2000), st.floats(0.0001, 0.9999))
def test_a_measured_glass_is_still_a_glass(capacity, part):
    before = GlassRule(name="Rocks", amount=capacity, unit=Unit.ML)
    after = calibrated(before, capacity * part)

    assert before.ice_share == DEFAULT_ICE_SHARE
    assert not before.ice_measured
    assert after.ice_measured
    assert GlassRule.model_validate(after.model_dump()) == after
    assert after.ice_share == pytest.approx(1 - part, abs=0.0011)


def test_a_glass_of_fluid_ounces_is_measured_in_millilitres():
    """1 fl oz is 29.5735295625 ml (NIST Handbook 44, appendix C)."""
    glass = calibrated(GlassRule(name="Highball", amount=10), 4 * 29.5735295625)

    assert glass.ice_share == pytest.approx(0.6)
