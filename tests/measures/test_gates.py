"""Gates as truth tables: what is missing, where somebody stands, and how to mend it."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures import gates, readiness, tasks
from assessments.measures.gates import missing_gates
from assessments.measures.mending import mend
from assessments.measures.next_steps import next_steps
from assessments.measures.pace_check import judge_pace
from assessments.measures.readiness import Standing, judge
from assessments.measures.ready_facts import Gates, Proof, ReadyPolicy, Safety
from assessments.measures.tasks import TaskFacts, judge_tasks
from recipes.grammar.reasons import Reason
from tests.measures.test_readiness import POOR, SURE, fact, facts

POLICY = ReadyPolicy(0.85, 0.05, 0.6)
ASKED = {
    "permit": replace(POLICY, permits=("serving",)),
    "pours": replace(POLICY, pour_days=30),
    "pace": replace(POLICY, least_pace=60, pace_days=30),
    "families": replace(POLICY, proof=Proof.FAMILIES),
}
HELD, OVER = frozenset({"serving"}), (("serving", "2026-03-06"),)

TABLE = [
    # what the house asks for, what is known, what is missing, where somebody stands
    ("permit", Gates(), ["permit_missing"], "not_yet"),
    ("permit", Gates(permits_held=frozenset({"food"})), ["permit_missing"], "not_yet"),
    ("permit", Gates(permits_over=OVER), ["permit_ran_out"], "not_yet"),
    ("permit", Gates(permits_held=HELD), [], "ready"),
    ("permit", Gates(permits_held=HELD, permits_over=OVER), [], "ready"),
    ("pours", Gates(), ["pours_not_checked"], "second"),
    ("pours", Gates(pours_days=31, pours_passed=True), ["pours_not_checked"], "second"),
    ("pours", Gates(pours_days=30, pours_passed=True), [], "ready"),
    ("pours", Gates(pours_days=0, pours_passed=False), ["pours_not_passed"], "second"),
    ("pours", Gates(pours_days=31, pours_passed=False), ["pours_not_checked"], "second"),
    ("pace", Gates(), ["pace_not_checked"], "second"),
    ("pace", Gates(pace=90.0, pace_days=31), ["pace_not_checked"], "second"),
    ("pace", Gates(pace=59.9, pace_days=3), ["pace_too_low"], "second"),
    ("pace", Gates(pace=60.0, pace_days=30), [], "ready"),
    ("families", Gates(), [], "ready"),
    ("families", Gates(to_prove=("Madras", "Negroni")), ["families_not_proven"], "second"),
]  # fmt: skip


@pytest.mark.parametrize(("asked", "known", "missing", "standing"), TABLE)
def test_a_gate_is_shut_or_open(asked, known, missing, standing):
    verdict = judge(replace(facts(fact(), policy=ASKED[asked]), gates=known))

    assert [r.code for r in verdict.missing] == missing
    assert verdict.standing == standing


@pytest.mark.parametrize(("asked", "known", "missing", "standing"), TABLE)
def test_what_the_house_does_not_ask_for_keeps_nobody_out(asked, known, missing, standing):
    assert judge(replace(facts(fact()), gates=known)).standing is Standing.READY


def test_where_families_are_proven_no_single_must_know_is_asked_for():
    drinks = [fact("madras", signed_off=False), fact("negroni")]
    proven = facts(*drinks, policy=ASKED["families"])
    left = replace(proven, gates=Gates(to_prove=("Madras",)))

    assert missing_gates(proven) == ()
    (reason,) = missing_gates(left)
    assert reason.values == {"count": 1, "drinks": "Madras"}
    assert missing_gates(replace(proven, drinks=())) == (Reason.of("no_drinks"),)


def test_what_falls_short_never_reads_as_enough():
    known = Gates(pace=59.96, pace_days=0)
    (reason,) = missing_gates(replace(facts(fact(), policy=ASKED["pace"]), gates=known))

    assert reason.values == {"pace": 59, "least": 60}


def test_all_gates_are_named_the_law_s_first():
    policy = replace(POLICY, permits=("food", "serving"), pour_days=9, least_pace=50, pace_days=9)
    known = replace(
        facts(fact(signed_off=False), safety=Safety.FAILED, policy=policy),
        gates=Gates(permits_over=(("food", "2026-03-06"),)),
    )

    assert [r.code for r in missing_gates(known)] == [
        "safety_not_passed", "permit_ran_out", "permit_missing", "not_signed_off",
        "pours_not_checked", "pace_not_checked",
    ]  # fmt: skip


def test_what_to_do_next_opens_every_gate():
    policy = replace(POLICY, permits=("serving",), pour_days=9, least_pace=50, pace_days=9)
    found = [r.code for r in next_steps(replace(facts(fact(signed_off=False), policy=policy)))]

    assert found == ["mend_permit", "next_sign_off", "mend_pours", "mend_pace"]


def test_builds_that_prove_families_are_next():
    known = Gates(to_prove=("A", "B", "C", "D", "E"))
    found = next_steps(replace(facts(fact(), policy=ASKED["families"]), gates=known))

    assert [r.values.get("drink", r.values.get("count")) for r in found] == ["A", "B", "C", 2]


@given(st.integers(10, 200), st.integers(60, 20_000), st.integers(1, 300))
def test_a_pace_that_reads_as_enough_is_enough(drinks, seconds, least):
    """Whatever page or command tells it: the whole drinks shown are held against the line."""
    made = judge_pace(drinks, seconds, {}, rung_up=True)
    policy = replace(POLICY, least_pace=least, pace_days=30)
    known = Gates(pace=made.an_hour, pace_days=0)

    reasons = missing_gates(replace(facts(fact(), policy=policy), gates=known))

    told = made.whole[0]
    low = {"pace": told, "least": least}
    assert [r.values for r in reasons if r.code == "pace_too_low"] == [low] * (told < least)


PACES = [
    # drinks, seconds, beside a busy bar's 60 to 100, whether 70 an hour were made
    (20, 900, "pace_unsure", True),
    (20, 1100, "pace_unsure", False),
    (108, 4860, "pace_usual", True),
    (100, 5400, "pace_unsure", False),
    (20, 3600, "pace_slow", False),
    (100, 1800, "pace_quick", True),
]


@pytest.mark.parametrize(("drinks", "seconds", "beside_a_bar", "made"), PACES)
def test_the_house_s_line_is_held_against_what_was_made(drinks, seconds, beside_a_bar, made):
    """A busy bar's range is another question: what it leaves open says nothing of this line."""
    check = judge_pace(drinks, seconds, {}, rung_up=True)
    policy = replace(POLICY, least_pace=70, pace_days=30)
    known = Gates(pace=check.an_hour, pace_days=0)
    shut = missing_gates(replace(facts(fact(), policy=policy), gates=known))

    assert check.reasons[0].code == beside_a_bar
    assert [r.code for r in shut] == ["pace_too_low"] * (not made)


@pytest.mark.parametrize("bad", [{"least_pace": 60}, {"pace_days": 30}])
def test_a_pace_has_its_days(bad):
    with pytest.raises(ValueError, match="with the days"):
        replace(POLICY, **bad)


SAID = {"module": "Safety", "permit": "serving", "drink": "Madras", "aspects": "glass",
        "drinks": "Madras, Negroni", "tasks": "Limes"}  # fmt: skip
KEPT_OUT = {
    code: names
    for part in (gates, readiness, tasks)
    for code, names in part.CODES.items()
    if code not in ("mostly_a_guess", "nothing_seen")
}
"""Every reason why somebody isn't ready; how far to trust the figures is none."""


@pytest.mark.parametrize(
    ("code", "mended"),
    [
        ("safety_not_passed", "mend_safety"),
        ("permit_missing", "mend_permit"),
        ("permit_ran_out", "mend_permit_again"),
        ("no_must_knows", "mend_must_knows"),
        ("no_drinks", "mend_menu"),
        ("not_signed_off", "mend_sign_off"),
        ("sign_off_out_of_date", "mend_renew"),
        ("families_not_proven", "mend_families"),
        ("pours_not_checked", "mend_pours"),
        ("pours_not_passed", "mend_pours_again"),
        ("pace_not_checked", "mend_pace"),
        ("pace_too_low", "mend_pace_low"),
        ("right_too_low", "mend_right"),
        ("right_below_second", "mend_right"),
        ("wrong_too_high", "mend_wrong"),
        ("pour_missed", "mend_pour_missed"),
        ("no_tasks", "mend_task_list"),
        ("tasks_not_done", "mend_tasks_first"),
        ("conduct_slipped", "mend_conduct"),
    ],
)
def test_every_reason_has_its_way_to_mend_it(code, mended):
    said = {name: SAID.get(name, 7) for name in KEPT_OUT[code]}

    found = mend(Reason.of(code, **said))

    assert found.code == mended
    assert found.values.items() <= said.items()


def test_what_says_you_is_told_to_oneself_alone():
    wrong, other = Reason.of("wrong_too_high", wrong=25, most=10), Reason.of("no_drinks")

    assert mend(wrong, is_own=True).code == "mend_wrong_own"
    assert mend(other, is_own=True) == mend(other)


def test_no_reason_is_left_without_one():
    """The table above is the whole of it."""
    table = test_every_reason_has_its_way_to_mend_it.pytestmark[0].args[1]

    assert {code for code, _ in table} == set(KEPT_OUT)
    with pytest.raises(KeyError):
        mend(Reason.of("mostly_a_guess"))


def task_facts(**said) -> TaskFacts:
    known = {"safety": Safety.PASSED, "policy": POLICY, "tasks": 4, "undone": (), "slips": 0}
    return TaskFacts(person="K7", safety_module="Safety", **{**known, **said})


@pytest.mark.parametrize(
    ("said", "standing", "missing"),
    [
        ({}, "ready", []),
        ({"undone": ("Ice", "Glass")}, "second", ["tasks_not_done"]),
        ({"tasks": 0}, "second", ["no_tasks"]),
        ({"slips": 1}, "not_yet", ["conduct_slipped"]),
        ({"safety": Safety.NOT_TAKEN}, "not_yet", ["safety_not_passed"]),
        ({"policy": ASKED["permit"]}, "not_yet", ["permit_missing"]),
        ({"policy": ASKED["permit"], "gates": Gates(permits_held=HELD)}, "ready", []),
        ({"policy": ASKED["pace"]}, "ready", []),
        ({"policy": ASKED["pours"]}, "ready", []),
        ({"safety": Safety.FAILED, "slips": 2, "undone": ("Ice",)}, "not_yet",
         ["safety_not_passed", "conduct_slipped", "tasks_not_done"]),
    ],
)  # fmt: skip
def test_bar_back_is_judged_on_tasks(said, standing, missing):
    verdict = judge_tasks(task_facts(**said))

    assert verdict.standing == standing
    assert [r.code for r in verdict.missing] == missing
    assert [r.code for r in verdict.next] == [mend(r).code for r in verdict.missing]


def test_the_first_tasks_are_named_and_all_are_counted():
    (reason,) = judge_tasks(task_facts(undone=("A", "B", "C", "D", "E"))).missing

    assert reason.values == {"count": 5, "within": 30, "tasks": "A; B; C"}


@pytest.mark.parametrize(
    ("undone", "code", "said"),
    [
        (("Ice",), "mend_tasks", {"count": 1}),
        (("Ice", "Glass, racked"), "mend_tasks", {"count": 2}),
        (("A", "B", "C"), "mend_tasks", {"count": 3}),
        (("A", "B", "C", "D"), "mend_tasks_first", {}),
    ],
)
def test_the_next_step_at_the_bar_back_is_about_the_tasks_that_are_named(undone, code, said):
    """Beside what is missing, which names them: once is enough."""
    verdict = judge_tasks(task_facts(undone=undone))
    [missing], [step] = verdict.missing, verdict.next

    assert missing.values["tasks"] == "; ".join(undone[:3])
    assert (step.code, step.values) == (code, said)


def test_figures_below_second_are_not_yet_with_every_gate_open():
    assert judge(facts(fact(), orders=POOR)).standing is Standing.NOT_YET
    assert judge(facts(fact(), orders=SURE)).standing is Standing.READY
