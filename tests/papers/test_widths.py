"""Tables of papers have columns of fixed widths: together they stay within the paper's margins."""

import datetime as dt
import io

import pypdfium2
import pytest

from assessments.measures.readiness import Standing
from assessments.showing import Gap
from barcourse.papers import folder, training_record
from barcourse.papers.builds_shown import Watched
from barcourse.papers.practical_shown import Checked
from barcourse.papers.ready_board import BoardFacts, Figures, Stand, ready_pdf
from tests.papers.sheets import HEAD, LONG

DAY, AT = dt.date(2026, 9, 30), dt.datetime(2026, 9, 30, 23, 59, tzinfo=dt.UTC)
WORDS = f"{LONG}, {LONG}"
MARGIN = 14 / 25.4 * 72
"""As `paged.css` has it, in points."""


def rightmost(pdf):
    """Where the rightmost letter of any page ends, in points from the right edge of the paper."""
    paper = pypdfium2.PdfDocument(io.BytesIO(pdf))
    least = []
    for page in paper:
        letters = page.get_textpage()
        ends = [letters.get_charbox(n)[2] for n in range(letters.count_chars())]
        least.append(page.get_width() - max(ends))
    return min(least)


def board(size):
    gap = Gap("5 must-knows aren't signed off.", [WORDS, WORDS])
    row = Stand(
        LONG, Standing.NOT_YET, Figures(88, 81, 94, 8, 4), WORDS, (gap,), (WORDS,), WORDS, (WORDS,)
    )
    stations = ("Well", "Service bar", "Beer point", "Bar back")
    return ready_pdf(
        BoardFacts(
            house="Harbour Lights", as_of=AT, station="Well", shift="", module="",
            stations=stations, everywhere=((LONG, (row,) * 4),), rows=(row,), bar=70,
            most_wrong=10, second_right=50, size=size,
        )
    )  # fmt: skip


def record(size):
    came = {"by": LONG, "came": WORDS, "made_with": "water"}
    return training_record.record_pdf(
        training_record.RecordFacts(
            house="Harbour Lights", person="Nils", role="trainee", first_day=DAY, left_day=None,
            as_of=AT, head=HEAD, size=size,
            asked=(training_record.Asked(DAY, WORDS, 12, 0, 0, 3, passed=False),),
            watched=(
                Watched(DAY, WORDS, 12, help="unprompted", seconds=300, slips=(WORDS,), **came),
            ),
            checked=(Checked(DAY, "pour check", WORDS, **came),),
            called=(training_record.Called(DAY, WORDS, 12, 0, 0, 90, 5, WORDS),),
            said=(training_record.Said(DAY, WORDS, DAY, WORDS, WORDS),),
            held=(training_record.Held(DAY, WORDS, DAY, WORDS),),
        )
    )  # fmt: skip


def inspected(size):
    permit = folder.PermitLine(WORDS, LONG, DAY, holds=True)
    person = folder.PersonLine(
        LONG, "trainee", DAY, in_training=True, ready=(), second=(), trained=(), untrained=(WORDS,),
        permits=(permit,), not_yet=(folder.NotYet(("Well", "Beer point"), (WORDS,)),),
    )  # fmt: skip
    return folder.folder_pdf(
        folder.FolderFacts(
            house="Harbour Lights", as_of=AT, head=HEAD, legal_age=18, challenge_age=25,
            people=(person,), refused=(folder.RefusedLine(AT, WORDS, WORDS, LONG),),
            refused_since=DAY, size=size,
        )
    )  # fmt: skip


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("paper", [board, record, inspected])
def test_no_word_reaches_into_the_margin(paper, size):
    assert rightmost(paper(size)) >= MARGIN - 1
