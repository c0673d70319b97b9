"""How good the questions are, for whoever writes and plans them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from assessments import reads_quiz, wording
from assessments.kept_pages import kept_page
from assessments.measures.itemstats import FEWEST, ItemStat
from assessments.measures.quiz import ASK, ItemAsked, ItemKind
from assessments.models import Quiz
from assessments.reads_quiz import ItemReport
from assessments.showing import Naming
from assessments.showing_quiz import ChoiceShown, show_item, show_review
from assessments.views.finding import menu_now
from assessments.wording_items import part_label
from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May
from recipes.menu import Menu
from recipes.models import Scenario

MOST_DRAWS = 2

Questions = dict[tuple[str, ...], Scenario]


@dataclass(frozen=True)
class StatShown:
    """A question with its figures, of a hundred; `about` is what it is about, `url` where that is
    mended ("" where it is asked no more, or nobody writes it), `right` the right answer and
    `draws` what was picked wrongly, in words."""

    stat: ItemStat
    part: str
    prompt: str
    said: str
    about: str
    url: str
    right: str
    percent: int
    low: int
    high: int
    tells_apart: str
    least: str
    most: str
    draws: list[tuple[str, int]]
    reasons: list[str]


@member(May.EDIT_BOOK)
def page(request: HouseRequest) -> HttpResponse:
    """The report on one quiz; `?of=` a module's slug or a planned quiz's code."""
    of = request.GET.get("of") or ""
    kept = kept_page(request.venue, "item report", of, make=lambda: _page(request, of))
    return render(request, "assessments/item_report.html", {**kept.shown, "html": kept.html})


def _page(request: HouseRequest, of: str) -> dict[str, object]:
    """A quiz that ends is in the house's log, and only those that ended are told of."""
    quizzes = reads_quiz.finished(request.venue)
    kinds = {_key(q): q.title for q in quizzes if _key(q)}
    wanted = of or next(iter(sorted(kinds)), "")
    if kinds and wanted not in kinds:
        raise Http404
    told: dict[str, object] = {"kinds": sorted(kinds.items()), "wanted": wanted}
    if not kinds:
        return told
    found = reads_quiz.item_report([q for q in quizzes if _key(q) == wanted])
    return told | _shown(found, menu_now(request))


def _about(item: ItemAsked, menu: Menu, questions: Questions) -> tuple[str, str]:
    """What a question is about, and where that is mended: a drink in the house book, a situation
    at its lesson. Identity cards are the program's own."""
    house = menu.venue.slug
    if item.recipe is not None:
        found = menu.by_slug.get(item.recipe)
        if found is None:
            return _("A drink that is off the menu"), ""
        at = {"house": house, "slug": found.drink.slug}
        return found.drink.name, reverse("drink", kwargs=at)
    if item.kind is ItemKind.CARD:
        return part_label(item.part), ""
    row = questions.get(reads_quiz.asked_as(item))
    if row is None:
        return _("A question that is asked no more"), ""
    at = {"house": house, "module": row.lesson.module.slug, "lesson": row.lesson.slug}
    return row.lesson.name, reverse("question_edit", kwargs={**at, "question": row.slug})


def _key(quiz: Quiz) -> str:
    if quiz.sheet:
        return quiz.sheet.code
    return quiz.module.slug if quiz.module else ""


def _shown(found: ItemReport, menu: Menu) -> dict[str, object]:
    naming = Naming.of(menu)
    questions = reads_quiz.questions_now(menu.venue)
    stats = [
        _stat(s, found, naming, _about(found.asked[s.item], menu, questions))
        for s in found.report.items
    ]
    return {
        "report": found.report,
        "trust": wording.word(found.report.trust),
        "can_tell": any(s.stat.can_tell_apart for s in stats),
        "fewest": FEWEST,
        "to_fix": [s for s in stats if s.reasons],
        "others": [s for s in stats if not s.reasons],
    }


def _stat(stat: ItemStat, found: ItemReport, naming: Naming, about: tuple[str, str]) -> StatShown:
    item = found.asked[stat.item]
    shown = show_item(item, naming)
    examples = [(found.picked[stat.item, said], times) for said, times in stat.draws[:MOST_DRAWS]]
    return StatShown(
        stat=stat,
        part=part_label(item.part),
        prompt=shown.prompt,
        said=shown.said,
        about=about[0],
        url=about[1],
        right=_words(show_review(item, naming, ASK).right),
        percent=round(100 * stat.difficulty),
        low=round(100 * stat.low),
        high=round(100 * stat.high),
        **_tells_apart(stat),
        draws=[(_words(show_review(i, naming, given).given), n) for (i, given), n in examples],
        reasons=[wording.word(r) for r in stat.reasons],
    )


def _tells_apart(stat: ItemStat) -> dict[str, str]:
    if stat.discrimination is None or stat.apart is None or not stat.can_tell_apart:
        return dict.fromkeys(("tells_apart", "least", "most"), "")
    least, most = stat.apart
    return {
        "tells_apart": _figure(stat.discrimination), "least": _figure(least), "most": _figure(most)
    }  # fmt: skip


def _figure(value: float) -> str:
    """Of two places, and no minus before nothing."""
    return f"{value + 0.0:.2f}" if round(value, 2) else "0.00"


def _words(picked: Sequence[ChoiceShown]) -> str:
    """An answer as it was read."""
    return _("; ").join(c.text or _(", ").join(c.parts) for c in picked)
