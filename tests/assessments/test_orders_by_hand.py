"""The board's figures of a house of two drinks, against a plain weighting of draws from what
docs/ready-for-a-statistician.md says.

Nothing here comes from `measures`: numbers are copied from the document, the curve of forgetting
from the published one, what happened from the rows. The board takes a person's six parameters for
normal after the evidence, so it is held to three orders of a hundred in the middle and eight at the
ends; the document says how near it comes.
"""

import datetime as dt
import io
import json
from collections import Counter
from dataclasses import replace
from itertools import groupby

import numpy as np
import pytest
from django.core.management import call_command
from scipy import stats

from assessments import board
from assessments.models import Answer, SpotMark, WatchedBuild
from assessments.sales import as_sold
from recipes import shipped
from tests.factories import assessments as make
from tests.factories import hands, people
from tests.factories.assessments import NOW
from tests.factories.recipes import DAY, small_course

DRINKS = ("gin-tonic", "madras")
HOUR = dt.timedelta(hours=1)
SHIFT = NOW + 9 * DAY
DRAWS = 2**16

# From the document: mean and sd of m (log), a, u, e, q, w.
PARAMETERS = [(-0.8, 0.9), (1.6, 1.4), (1.0, 0.8), (2.3, 0.4), (0.0, 1.0), (-1.63, 1.1)]
DRINKS_DIFFER, CHOSEN_WEAK, WRONG_MARKS, WRONG_OF_A_PROGRAM = 0.4, 2.0, 0.25, 0.08
FIRST, FIRMER, LONGEST, APART = 2.3, 3.5, 60.0, 0.5
DECAY = 0.1542  # of the published curve, version 6
FACTOR = 0.9 ** (-1 / DECAY) - 1  # so that R(S, S) = .9


@pytest.fixture
def two_drinks(db, monkeypatch):
    """A house that pours two drinks, its trainer and its hire."""
    course = small_course()
    of = [replace(m, drinks=tuple(d for d in m.drinks if d.slug in DRINKS)) for m in course.modules]
    tiny = replace(course, modules=tuple(m for m in of if m.drinks or m.gate))
    monkeypatch.setattr(shipped, "shipped_course", lambda: tiny)
    owner = people.open_house("The Two", owner="Ottilie")
    return people.hire(owner, "Thora", "trainer"), people.hire(owner, "Runa", "trainee")


def live_a_week(trainer, hire):
    """Quizzes on three days, some of them wrong; builds the trainer picks; a mark in service."""
    numbers = iter(range(1000))

    def now_and_then(item):
        n = next(numbers)
        if item.kind == "amount":
            return make.right(item)
        if n % 11 == 5:
            return make.ask(item)
        return make.wrong(item) if n % 4 == 3 else make.right(item)

    for day in (1, 2, 4):
        make.take_quiz(hire, "highballs", now_and_then, seed=day, at=NOW + day * DAY)
    make.watch(trainer, hire, "madras", off=("top:orange-juice",), at=NOW + 3 * DAY)
    make.watch(trainer, hire, "madras", at=NOW + 5 * DAY)
    make.watch(trainer, hire, "madras", at=NOW + 6 * DAY)
    hands.spot(trainer, hire, "gin-tonic", at=NOW + 6 * DAY + HOUR)


def happened(hire, drinks):
    """(day, drink, topics shown, choices or 0, came, whether a trainer picked it), in order."""
    sizes = {
        t.fingerprint for d in drinks for t in d.topics if t.rule and t.rule.startswith("pour")
    }
    whole = [list(dict.fromkeys(t.fingerprint for t in d.topics)) for d in drinks]
    slugs = [d.slug for d in drinks]
    found = []
    for answer in Answer.objects.filter(item__quiz__hire=hire).select_related("item__recipe"):
        item = answer.item
        topics = list(item.asked["topics"])
        drink = slugs.index(item.recipe.slug) if item.recipe else None
        if drink is None or not topics or not set(topics) <= set(whole[drink]):
            continue  # a situation, or which of the two is meant
        if item.kind != "amount" or "as" not in item.asked["choices"][0]["content"]:
            topics = [t for t in topics if t not in sizes]
        found.append((answer.at, drink, topics, item.choices, answer.came, False))
    for build in WatchedBuild.objects.filter(hire=hire).select_related("recipe"):
        drink = slugs.index(build.recipe.slug)
        came = "right" if build.passed else "wrong"
        found.append((build.at, drink, whole[drink], 0, came, True))
    for mark in SpotMark.objects.filter(hire=hire).select_related("recipe"):
        drink = slugs.index(mark.recipe.slug)
        found.append((mark.at, drink, whole[drink], 0, mark.came, False))
    return sorted(found, key=lambda f: f[0])


def amounts(hire):
    """Answers on how much a pour is: (when, how they came)."""
    rows = Answer.objects.filter(item__quiz__hire=hire, item__kind="amount")
    return [(a.at, a.came) for a in rows if "as" in a.item.asked["choices"][0]["content"]]


def by_hand(hire, drinks):
    """Mean, low and high end of right, ask and wrong: each draw is somebody, weighted by how likely
    what happened is of them."""
    events = happened(hire, drinks)
    normal = stats.norm.ppf(stats.qmc.Sobol(8, seed=3).random(DRAWS) * (1 - 1e-12) + 5e-13)
    m, a, u, e, q, w = (
        mean + sd * column for (mean, sd), column in zip(PARAMETERS, normal[:, :6].T, strict=True)
    )
    picked = {drink: came for _, drink, _, _, came, chosen in events if chosen}
    down = CHOSEN_WEAK * DRINKS_DIFFER**2
    up = min(down, down * len(picked) / (2 - len(picked)))
    weaker = {drink: 0.0 if came == "right" else -down for drink, came in picked.items()}
    z = [weaker.get(d, up) + DRINKS_DIFFER * normal[:, 6 + d] for d in range(len(drinks))]
    holds = [stats.norm.cdf(a + each) for each in z]
    unread, asks = 1 / (1 + np.exp(-u)), 1 / (1 + np.exp(-q))
    hand, trainers = stats.norm.cdf(e), WRONG_MARKS / (1 + np.exp(-w))
    all_of = [list(dict.fromkeys(t.fingerprint for t in d.topics)) for d in drinks]
    last, stable, grown = {}, {}, {}

    def recall(drink, topics, at):
        found = holds[drink] ** (len(topics) / len(all_of[drink]))
        for topic in topics:
            if topic in last:
                age = (at - last[topic]) / DAY / stable[topic]
                found = found * (1 + FACTOR * np.exp(m) * age) ** -DECAY
            else:
                found = found * unread
        return found

    weight = np.ones(DRAWS)
    for at, moment in groupby(events, key=lambda event: event[0]):
        together = list(moment)
        for _, drink, topics, choices, came, _ in together:
            c, off = recall(drink, topics, at), WRONG_OF_A_PROGRAM if choices else trainers
            right = c + (1 - c) * (1 - asks) / choices if choices else c * hand
            ask = (1 - c) * asks
            wrong = 1 - right - ask
            marked = {
                "right": (1 - off) * right + off * wrong + off * ask / 2,
                "ask": (1 - off) * ask,
                "wrong": (1 - off) * wrong + off * right + off * ask / 2,
            }
            weight = weight * marked[came]
        known_before = set(stable)
        for topic in {t for _, _, topics, *_ in together for t in topics} - known_before:
            stable[topic], grown[topic], last[topic] = FIRST, at, at
        right_ones = {t for _, _, topics, _, came, _ in together if came == "right" for t in topics}
        for topic in right_ones & known_before:
            if (at - grown[topic]) / DAY >= APART:
                stable[topic], grown[topic] = min(stable[topic] * FIRMER, LONGEST), at
            last[topic] = at
    total = sum(d.share for d in drinks)
    c = sum(d.share / total * recall(n, all_of[n], SHIFT) for n, d in enumerate(drinks))
    return events, [
        _ends(share, weight) for share in (c * hand, (1 - c) * asks, 1 - c * hand - (1 - c) * asks)
    ]


def _ends(share, weight):
    order = np.argsort(share)
    mass = np.cumsum(weight[order]) / weight.sum()
    low, high = (share[order][np.searchsorted(mass, p)] for p in (0.05, 0.95))
    return float((weight * share).sum() / weight.sum()), float(low), float(high)


def test_the_board_and_the_command_say_what_working_it_out_by_hand_says(two_drinks):
    trainer, hire = two_drinks
    live_a_week(trainer, hire)
    menu = as_sold(make.menu_of(hire, SHIFT))
    drinks = sorted(menu.drinks, key=lambda d: d.slug)
    assert [d.slug for d in drinks] == list(DRINKS)
    events, by_weighting = by_hand(hire, drinks)
    kinds = Counter((bool(choices), came) for _, _, _, choices, came, _ in events)
    assert kinds[True, "right"] > 10
    assert min(kinds[True, "wrong"], kinds[False, "right"], kinds[False, "wrong"]) > 0

    assert not any(came != "right" for _, came in amounts(hire))  # the one thing left out here
    well = hire.venue.stations.get(slug="well")
    [row] = board.board(well, menu, [hire])
    said = row.orders

    for (mean, low, high), found in zip(
        by_weighting, (said.right, said.ask, said.wrong), strict=True
    ):
        assert found.mean == pytest.approx(mean, abs=0.03)
        assert (found.low, found.high) == pytest.approx((low, high), abs=0.08)

    out = io.StringIO()
    at = f"{SHIFT:%Y-%m-%dT%H:%M}+00:00"
    call_command(
        "who_is_ready", "--json", "--venue", hire.venue.slug, "--station", "well", "--at", at,
        stdout=out,
    )  # fmt: skip
    [told] = json.loads(out.getvalue())
    (right, low, high), (ask, _, _), (wrong, _, _) = by_weighting
    assert [told["right"], told["ask"], told["wrong"]] == pytest.approx(
        [right, ask, wrong], abs=0.03
    )
    assert [told["right_low"], told["right_high"]] == pytest.approx([low, high], abs=0.08)
