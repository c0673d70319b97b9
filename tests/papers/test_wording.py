"""Every code and state of the papers has words, and none is left over."""

import re
from pathlib import Path

import pytest

from barcourse.papers.issue import NotReady
from barcourse.papers.states import State
from barcourse.papers.wording import STATES, WORDS, sentences
from barcourse.people import wording as people_wording
from barcourse.people.reasons import refuse
from recipes.grammar.reasons import Reason

ISSUE = Path(__file__).parent.parent.parent / "barcourse/papers/issue.py"
RAISED = set(re.findall(r'(?:refuse|Reason\.of)\("(\w+)"', ISSUE.read_text()))


def test_the_verbs_refuse_for_reasons_that_have_words():
    assert len(RAISED) >= 5
    assert set(WORDS) | set(people_wording.WORDS) >= RAISED


def test_no_words_are_left_over():
    assert set(WORDS) <= RAISED


@pytest.mark.parametrize("code", sorted(RAISED - {"not_ready"}))
def test_a_refusal_is_one_sentence(code):
    [sentence] = sentences(refuse(code))

    assert sentence.endswith(".")


def test_somebody_who_is_not_ready_is_told_everything_that_is_missing():
    missing = (Reason.of("not_signed_off", drink="Negroni"), Reason.of("no_drinks"))

    assert sentences(NotReady(missing)) == [
        "Not ready for that station yet, so there is no certificate.",
        "Negroni isn't signed off.",
        "Nothing is on the menu yet.",
    ]


def test_every_state_has_a_word_of_its_own():
    assert set(STATES) == set(State)
    assert len({str(word) for word in STATES.values()}) == len(State)


@pytest.mark.parametrize("kind", ["certificate_issued", "certificate_revoked"])
def test_the_log_has_words_for_papers(kind):
    assert str(people_wording.KINDS[kind])
