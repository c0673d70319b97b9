"""What the board's paper costs, against the same words laid out as paragraphs by the same press."""

import datetime as dt
import re
import time
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from barcourse.people.models import Membership

MOST, TURNS = 63, 3
"""People on the paper; more only make more pages of it."""


def measure_papers(owner: "Membership") -> None:
    from django.template.loader import render_to_string

    from assessments.board import order_stations
    from assessments.board_look import Look
    from barcourse.papers import pdf, ready_board
    from recipes.menu import menu_at

    menu = menu_at(owner.venue, dt.datetime.now(dt.UTC))
    found = ready_board.facts_of(menu, Look(order_stations(owner.venue)[0]))
    facts = replace(found, everywhere=found.everywhere[:MOST], rows=found.rows[:MOST])
    html = render_to_string(
        "papers/paper/ready_board.html",
        {"facts": facts, "house": facts.house, "title": "", "dated": "", "language": "en"},
    )
    plain = as_paragraphs(html)

    def floor() -> None:
        pdf.printed(plain, ("paged.css",), pdf.SIZES[facts.size], "")

    def ours() -> None:
        ready_board.ready_pdf(facts)

    floor()  # unpacks the fonts
    words, paper = (min(spent(call) for _ in range(TURNS)) for call in (floor, ours))
    what = f"board's paper of {len(facts.rows)}, against its words alone"
    print(f"{what:<44} {words * 1e3:8.2f} ms {paper * 1e3:8.2f} ms {paper / words:9.2f}")


def as_paragraphs(html: str) -> str:
    """Its tables without rows and columns, each cell a paragraph."""
    html = re.sub(r"</?(?:table|thead|tbody|tr)\b[^>]*>", "", html)
    return re.sub(r"<(/?)t[hd]\b[^>]*>", r"<\1div>", html)


def spent(call: Callable[[], None]) -> float:
    """Seconds of the processor."""
    begin = time.process_time()
    call()
    return time.process_time() - begin
