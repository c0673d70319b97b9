"""Pours: exact intervals, tolerance factors, capability and the verdict, against the literature."""

from decimal import Decimal
from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, optimize, stats
from statsmodels.stats.proportion import proportion_confint

from assessments.measures import density
from assessments.measures.drift import drift
from assessments.measures.intervals import (
    exact_share,
    howe_factor,
    mean_interval,
    rate_interval,
    tolerance_factor,
)
from assessments.measures.pours import (
    PourPolicy,
    PourTarget,
    capability,
    check_pours,
    is_within,
    week_cost,
    would_miss,
)
from recipes.grammar.cost import Bottle
from recipes.grammar.rules import MeasuredBy

FREE = PourTarget(1, 0.125)
STAMPED = PourTarget(25, 1.5, MeasuredBy.STAMPED)


@pytest.mark.parametrize(
    ("hits", "of", "confidence", "low", "high"),
    [
        # Newcombe 1998, Table I (81/263, 0/20); NIST/SEMATECH e-Handbook 7.2.4.1 (4 of 20, 90 %).
        (81, 263, 0.95, 0.2527, 0.3676),
        (0, 20, 0.95, 0.0, 0.1684),
        (4, 20, 0.9, 0.07135, 0.40103),
    ],
)
def test_exact_shares_are_those_of_the_literature(hits, of, confidence, low, high):
    assert exact_share(hits, of, confidence) == pytest.approx((low, high), abs=5e-5)


@given(st.integers(1, 300), st.data())
def test_exact_shares_are_those_of_statsmodels(of, data):
    hits = data.draw(st.integers(0, of))

    assert exact_share(hits, of) == pytest.approx(
        proportion_confint(hits, of, method="beta"), abs=1e-9, nan_ok=False
    )


@pytest.mark.parametrize(("hits", "of"), [(-1, 5), (6, 5), (0, 0)])
def test_what_is_no_share_is_refused(hits, of):
    with pytest.raises(ValueError, match="no share"):
        exact_share(hits, of)


@pytest.mark.parametrize(
    ("n", "k"),
    # Exact two-sided 95/95 factors (Krishnamoorthy and Mathew 2009, table B; Python library
    # toleranceinterval gives the same).
    [(2, 36.519), (5, 5.0769), (20, 2.7603), (30, 2.5549)],
)
def test_exact_tolerance_factors(n, k):
    assert tolerance_factor(n) == pytest.approx(k, abs=6e-4 if n == 2 else 6e-5)


def test_the_handbook_s_own_example():
    """NIST/SEMATECH e-Handbook 7.2.6.3: n 43, coverage .90, confidence .99, Howe's k 2.2173."""
    k = howe_factor(43, 0.9, 0.99)

    assert k == pytest.approx(2.2173, abs=5e-5)
    ends = (97.07 - k * 0.0268, 97.07 + k * 0.0268)
    assert ends == pytest.approx((97.0106, 97.1294), abs=5e-5)
    assert tolerance_factor(43, 0.9, 0.99) == pytest.approx(k, rel=0.003)


@pytest.mark.parametrize("n", [3, 7, 12])
def test_the_factor_solves_its_equation_by_another_way_of_integrating(n):
    k = tolerance_factor(n)

    def covered(x):
        reach = optimize.brentq(
            lambda r: stats.norm.cdf(x + r) - stats.norm.cdf(x - r) - 0.95, 0, x + 10
        )
        tail = stats.chi2.sf((n - 1) * reach**2 / k**2, n - 1)
        return tail * stats.norm.pdf(x, scale=1 / sqrt(n))

    # Half of the line, doubled: the mean may lie on either side.
    assert 2 * integrate.quad(covered, 0, 8 / sqrt(n), epsabs=1e-7)[0] == pytest.approx(
        0.95, abs=1e-5
    )


def test_one_pour_has_no_factor():
    with pytest.raises(ValueError, match="no spread"):
        tolerance_factor(1)


def test_capability_is_the_handbook_s():
    """NIST/SEMATECH e-Handbook 6.1.6: limits 8 and 20, mean 16, s 2."""
    assert capability((8, 20), 16, 2) == pytest.approx((1.0, 0.6667), abs=5e-5)


def test_the_mean_and_its_interval_are_student_s():
    """NIST/SEMATECH e-Handbook 7.2.2: mean 53.7, s 6.567, t 1.782 against 50."""
    values = [50, 48, 44, 56, 61, 52, 53, 55, 67, 51]
    found = check_pours(values, PourTarget(50, 10))

    assert (found.mean, found.sd) == pytest.approx((53.7, 6.567), abs=5e-4)
    assert found.bias / (found.sd / sqrt(10)) == pytest.approx(1.782, abs=5e-4)
    expected = stats.ttest_1samp(values, 50).confidence_interval(0.95)
    assert (found.bias_low + 50, found.bias_high + 50) == pytest.approx(
        (expected.low + 0, expected.high + 0)
    )
    assert mean_interval(53.7, 6.567, 10)[0] == pytest.approx(expected.low, abs=1e-3)


def test_a_check_says_everything_of_its_pours():
    found = check_pours([1.02, 0.97, 1.0, 1.05, 1.01], FREE)

    assert (found.n, found.hits, found.within, found.passed) == (5, 5, 1.0, True)
    assert found.within_low == pytest.approx(0.4782, abs=5e-5)  # (.05 / 2) ** (1 / 5)
    assert found.bias == pytest.approx(0.01)
    assert found.tolerance_high - found.tolerance_low == pytest.approx(2 * found.k * found.sd)
    assert found.cp == pytest.approx(0.25 / (6 * found.sd))


def codes(pours, aim=FREE, **policy):
    return [r.code for r in check_pours(pours, aim, PourPolicy(**policy)).reasons]


@pytest.mark.parametrize(
    ("pours", "says"),
    [
        ([1.0] * 4, ["pours_too_few"]),
        ([1.0] * 5, ["pours_pass_alike", "pours_no_bias"]),
        ([1.1] * 5, ["pours_pass_alike", "pours_run_over"]),
        ([1.0, 1.001, 0.999, 1.0, 1.001], ["pours_hold", "pours_no_bias"]),
        ([1.004, 1.004, 1.003, 1.004, 1.004], ["pours_hold", "pours_no_bias"]),
        ([1.02, 0.97, 1.0, 1.05, 1.01], ["pours_pass", "pours_no_bias"]),
        ([1.0] * 9 + [1.2], ["pours_pass_most", "pours_no_bias", "pours_uneven"]),
        ([1.0] * 8 + [1.2] * 2, ["pours_off", "pours_no_bias", "pours_uneven"]),
        ([1.1, 1.11, 1.09, 1.1, 1.12], ["pours_pass", "pours_run_over"]),
        ([0.9, 0.91, 0.89, 0.9, 0.88], ["pours_pass", "pours_run_under"]),
        ([1.3, 1.31, 1.29, 1.3, 1.32], ["pours_off", "pours_run_over"]),
    ],
)
def test_the_verdict_of_a_free_pour_is_two_sided(pours, says):
    assert codes(pours) == says


@pytest.mark.parametrize(
    ("pours", "says"),
    [
        ([25] * 5, "pours_pass_alike"),
        ([25, 25, 25.5, 25, 25], "pours_pass_unsure"),
        ([25.4, 25.6, 25.5, 25.7, 25.3], "pours_pass"),
        ([25, 25, 25, 25, 24.9], "pours_short"),
        ([25, 25, 25, 25, 26.5], "pours_pass_unsure"),
        ([25, 25, 25, 25, 26.6], "pours_off"),
        ([25, 25, 24, 24], "pours_too_few"),
    ],
)
def test_a_stamped_measure_is_never_under(pours, says):
    assert codes(pours, STAMPED)[0] == says


@pytest.mark.parametrize(
    ("pours", "policy", "said"),
    [
        ([0.88, 1.12, 0.9, 1.1, 1.0], {}, ("pours_pass_unsure", 5, 5, 26)),
        ([1.12, 1.1, 1.12, 1.11, 1.12], {}, ("pours_pass_unsure", 5, 5, 11)),
        ([1.0] * 9 + [1.2], {}, ("pours_pass_most", 9, 10, None)),  # about 6: what the rule lets
        ([0.88, 1.12, 0.9, 1.1, 1.0], {"least_within": 0.7}, ("pours_pass", 5, None, None)),
    ],
)  # fmt: skip
def test_a_pass_whose_spread_says_otherwise_says_so_itself(pours, policy, said):
    """How many would miss is the normal distribution's own share, by scipy."""
    found = check_pours(pours, FREE, PourPolicy(**policy))
    told = dict(found.reasons[0].params)

    assert found.passed
    assert (found.reasons[0].code, told["n"], told.get("of"), told.get("miss")) == said
    hand = stats.norm(np.mean(pours), np.std(pours, ddof=1))
    assert would_miss(found, FREE) == pytest.approx(hand.cdf(0.875) + hand.sf(1.125), abs=1e-9)


@given(st.lists(st.floats(0.85, 1.15), min_size=5, max_size=12))
def test_no_pass_is_told_plainly_beside_a_spread_that_lets_too_many_miss(pours):
    found = check_pours(pours, FREE)

    if found.passed and found.sd and would_miss(found, FREE) > 0.1:
        assert found.reasons[0].code == "pours_pass_unsure"


FLOZ_ML = 29.5735295625  # by definition: 231 cubic inches a gallon, 128 of it


@pytest.mark.parametrize(
    ("pours", "says"),
    [
        ([5.05, 5.06, 5.07, 5.06, 5.06], []),  # rightly a little over the line
        ([5.0] * 5, []),
        ([5.2, 5.21, 5.19, 5.2, 5.2], ["pours_run_over"]),  # over what it may be over
        ([4.9] * 5, ["pours_run_under"]),
        ([4.999] * 5, ["pours_run_under"]),
    ],
)
def test_nobody_is_told_to_pour_a_stamped_measure_shorter_within_its_limits(pours, says):
    aim = PourTarget(5.0, 0.125, MeasuredBy.STAMPED)

    assert [r.code for r in check_pours(pours, aim).reasons[1:]] == says


@pytest.mark.parametrize("by", [MeasuredBy.FREE_POUR, MeasuredBy.STAMPED])
@pytest.mark.parametrize(
    ("read", "says"),
    [
        ([29.6] * 5, "pours_no_bias"),
        ([29.6, 29.6, 29.5, 29.6, 29.6], "pours_no_bias"),
        ([30] * 5, "pours_no_bias"),
        ([30.1] * 5, "pours_run_over"),
        ([FLOZ_ML] * 5, "pours_no_bias"),
    ],
)
def test_what_the_reading_rounds_is_no_bias(read, says, by):
    """An ounce is 29.57 ml: a cylinder in millilitres can't show it any nearer."""
    aim = PourTarget(FLOZ_ML, 0.125 * FLOZ_ML, by)
    read = [round(p, 6) for p in read]

    found = check_pours(read, aim.read_in(read, 1.0, FLOZ_ML))

    if by is MeasuredBy.FREE_POUR:
        assert found.passed
        assert found.reasons[1].code == says
    elif min(read) > 29.5:
        assert found.passed
        assert len(found.reasons) == 1  # within its limits nothing is said of its lean
    else:
        assert found.reasons[0].code == "pours_short"  # 29.5 is short by more than half a tenth


@pytest.mark.parametrize(
    ("read", "sizes", "grain"),
    [
        ([29.6, 29.0], (1.0,), 0.05),
        ([30, 29], (1.0,), 0.5),
        ([1.25, 1.0], (1.0,), 0.005),
        ([round(1.02 * FLOZ_ML, 6)], (1.0, FLOZ_ML), 0.005 * FLOZ_ML),
        ([round(28.5 / 0.948, 6)], (1 / 0.948,), 0.05 / 0.948),
        ([1, 2], (FLOZ_ML, 1.0), 0.5),
        ([float("nan")], (1.0,), 0.0),
    ],
)
def test_the_grain_is_half_the_last_digit_that_was_read_off(read, sizes, grain):
    assert PourTarget(50, 5).read_in(read, *sizes).grain == pytest.approx(grain)


def test_a_round_number_is_no_coarse_measure():
    """One of 1 typed as "1" isn't half an ounce vague."""
    assert PourTarget(1, 0.125).read_in([1, 1, 1], 1.0).grain == 0.05


def test_pours_that_read_alike_leave_chance_unsaid():
    found = check_pours([1.0] * 5, FREE)

    assert (found.sd, found.bias_low, found.bias_high) == (0.0, None, None)


def test_a_pass_needs_what_the_house_asks():
    assert codes([1.0] * 9 + [1.2], least_within=0.95)[0] == "pours_off"
    assert codes([1.0] * 9, least_pours=10) == ["pours_too_few"]


def test_the_edge_of_the_tolerance_is_within():
    assert is_within(1.125, FREE)
    assert is_within(0.875, FREE)
    assert not is_within(1.126, FREE)
    assert not is_within(24.99, STAMPED)


def test_one_pour_has_no_spread_and_equal_pours_no_capability():
    one, same = check_pours([1.0], FREE), check_pours([0.1 + 0.2] * 5, PourTarget(0.3, 0.1))

    assert (one.sd, one.k, one.cp, one.tolerance_low, one.passed) == (None, None, None, None, None)
    assert (same.sd, same.cp, same.cpk) == (0.0, None, None)
    assert same.passed


@pytest.mark.parametrize(
    ("pours", "aim"),
    [
        ([], FREE),
        ([-0.1] * 5, FREE),
        ([float("nan")] * 5, FREE),
        ([float("inf")], FREE),
        ([1.0], PourTarget(0, 0.1)),
        ([1.0], PourTarget(1, -0.1)),
        ([1.0] * 201, FREE),
        ([1e300, 1, 1, 1, 1], FREE),
        ([1.0], PourTarget(1e308, 0.1)),
        ([1.0], PourTarget(1, 1e7)),
    ],
)
def test_what_nobody_can_have_poured_is_refused(pours, aim):
    with pytest.raises(ValueError, match="pour"):
        check_pours(pours, aim)


pours_of = st.lists(st.floats(0.5, 1.5), min_size=2, max_size=30)


@given(pours_of, st.sampled_from([29.5735, 2.0]))
def test_the_unit_does_not_matter(pours, size):
    """Away from the edge itself, where a hair of rounding may fall either way."""
    if any(abs(abs(p - 1) - 0.125) < 1e-4 for p in pours):
        return
    here, there = (
        check_pours(pours, FREE),
        check_pours([p * size for p in pours], PourTarget(size, 0.125 * size)),
    )

    assert here.hits == there.hits
    assert here.passed is there.passed
    assert there.bias == pytest.approx(here.bias * size, abs=1e-6)


@given(pours_of)
def test_order_does_not_matter_and_the_interval_holds_the_share(pours):
    found, turned = check_pours(pours, FREE), check_pours(pours[::-1], FREE)

    assert found.bias == pytest.approx(turned.bias)
    assert found.within_low <= found.within <= found.within_high


def test_the_tolerance_interval_holds_what_it_says():
    """Of 2000 checks of seven pours of a normal hand, 95 % hold 95 % of that hand's pours."""
    draws = np.random.default_rng(7).normal(size=(2000, 7))
    reach = tolerance_factor(7) * draws.std(axis=1, ddof=1)
    mean = draws.mean(axis=1)
    held = stats.norm.cdf(mean + reach) - stats.norm.cdf(mean - reach) >= 0.95

    assert held.mean() == pytest.approx(0.95, abs=0.015)


def test_what_a_week_costs():
    """2 ml too much, 100 times, of a bottle of 700 ml for 21: six."""
    assert week_cost(2.0, 100, Bottle(700, Decimal(21))) == Decimal(6)
    assert week_cost(-2.0, 100, Bottle(700, Decimal(21))) == Decimal(-6)


@pytest.mark.parametrize(
    ("abv", "rho"),
    # OIML R 22:1975, tables: kg/m3 at 20 degrees.
    [(0, 0.99820), (40, 0.94805), (50, 0.93014), (100, 0.78924)],
)
def test_density_by_strength_is_the_published_table_s(abv, rho):
    assert density.spirit_density(abv) == pytest.approx(rho, abs=1e-5)


def test_forty_percent_by_volume_is_a_third_by_mass():
    """OIML R 22:1975: 33.30 % by mass."""
    assert density.mass_fraction(40) == pytest.approx(0.3330, abs=5e-5)


def test_fifty_and_fifty_is_less_than_a_hundred():
    """50 ml of ethanol and 50 ml of water give 96.46 ml."""
    grams = 50 * density.ETHANOL + 50 * density.WATER
    fraction = 50 * density.ETHANOL / grams

    assert grams / density.density_of_mixture(fraction) == pytest.approx(96.46, abs=0.02)


@pytest.mark.parametrize("abv", [-1, 101])
def test_no_such_strength(abv):
    with pytest.raises(ValueError, match="no strength"):
        density.spirit_density(abv)


@pytest.mark.parametrize("events", [1, 7, 40])
def test_a_rate_s_interval_is_the_chi_squared_one(events):
    """Garwood 1936 for a clock that stops at the last event: gamma quantiles over the time."""
    low, high = rate_interval(events, 10.0)

    assert low == pytest.approx(stats.gamma.ppf(0.025, events) / 10)
    assert high == pytest.approx(stats.gamma.ppf(0.975, events) / 10)


@pytest.mark.parametrize(
    "checks",
    [
        [(0, 1.0), (10, 1.4), (31, 2.1), (60, 3.9)],
        [(0, 0.1), (7, -0.1), (14, 0.05), (40, 0.0), (55, 0.2)],
    ],
)
def test_a_drift_is_the_line_of_the_reference(checks):
    found, line = drift(checks), stats.linregress(*zip(*checks, strict=True))

    half = stats.t.ppf(0.975, len(checks) - 2) * line.stderr
    assert found.slope == pytest.approx(30 * line.slope)
    assert (found.low, found.high) == pytest.approx(
        (30 * (line.slope - half), 30 * (line.slope + half))
    )


@pytest.mark.parametrize(
    ("checks", "code"),
    [
        ([(0, 1.0), (9, 2.0)], "drift_too_few"),
        ([(3, 1.0), (3, 2.0), (3, 3.0)], "drift_too_short"),
        ([(0, 1.0), (0.001, 2.0), (0.002, 3.0)], "drift_too_short"),
        ([(0, 1.0), (3, 2.0), (6.9, 3.0)], "drift_too_short"),
        ([(0, 1.0), (0.5, 2.0), (8, 3.0)], "drift_too_short"),
        ([(0, 1.0), (3.5, 2.0), (7, 3.0)], "drift_up"),
        ([(0, 0.0), (10, 1.0), (20, 2.0)], "drift_up"),
        ([(0, 0.0), (10, -1.0), (20, -2.0)], "drift_down"),
        ([(0, 0.0), (10, 0.0), (20, 0.0)], "drift_none"),
        ([(0, 0.0), (10, 1.0), (20, 0.0)], "drift_none"),
    ],
)
def test_a_drift_in_a_word(checks, code):
    assert drift(checks).reason.code == code


@pytest.mark.parametrize(
    ("mean", "most", "code"),
    [
        (1.05, None, "pours_pass_alike"),
        (1.05, 0.05, "pours_pass_alike"),
        (1.05, 0.04, "pours_lean"),
        (0.95, 0.04, "pours_lean"),
        (1.2, 0.04, "pours_off"),  # what is out of tolerance is said first
    ],
)
def test_the_house_may_judge_the_average_too(mean, most, code):
    verdict = check_pours([mean] * 5, FREE, PourPolicy(most_bias=most))

    assert verdict.reasons[0].code == code
    assert verdict.passed is (code == "pours_pass_alike")


@pytest.mark.parametrize(
    "said",
    [
        {"least_pours": 2}, {"least_pours": 21}, {"least_within": 0.4}, {"least_within": 1.1},
        {"most_bias": 0.0}, {"most_bias": -1.0}, {"most_bias": float("nan")},
    ],
)  # fmt: skip
def test_no_house_has_a_rule_that_nobody_can_pour_by(said):
    with pytest.raises(ValueError, match=r"nobody can pour by|above 0"):
        PourPolicy(**said)
