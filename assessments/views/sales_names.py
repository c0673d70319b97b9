"""What names on the till mean, as somebody says it on the page of the sales mix."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments import record_sales, sales_names
from assessments.sales_in_force import InForce, in_force
from assessments.sales_names import NOTHING_TAUGHT, Asked, drink_called
from assessments.sales_words import hours_left_words
from assessments.views.finding import menu_now
from assessments.views.sales import FORGET, show
from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.grammar.till_packs import MOST_IN_ONE
from recipes.menu import Menu


@dataclass(frozen=True)
class _Typed:
    """A name with what was picked and typed, how many drinks one sale is, and what the name meant
    when that was shown; None for a form that didn't say. `alike` are other ways of writing it that
    stood there with it."""

    said: str
    picked: str
    typed: str
    each: str
    was: str | None
    alike: tuple[str, ...] = ()

    @property
    def is_open(self) -> bool:
        return not (self.picked or self.typed)

    def to(self, menu: Menu) -> str | None:
        """As `tell_names` takes it; what is typed wins. Raises LookupError where no drink that is
        sold now is called so."""
        said = self.typed or self.picked
        if said in (NOTHING_TAUGHT, FORGET):
            return None if said == NOTHING_TAUGHT else record_sales.FORGET
        if slug := drink_called(said, menu):
            return slug
        raise LookupError(said)

    @property
    def glasses(self) -> int | None:
        """None where nothing was said. Raises ValueError for what is no such number."""
        if not self.each:
            return None
        glasses = int(self.each)
        if not 1 <= glasses <= MOST_IN_ONE:
            raise ValueError(self.each)
        return glasses


@member(May.TAKE_IN_SALES, methods=SEND)
def names(request: HouseRequest) -> HttpResponse:
    """What names mean, or that one is asked about once more: those left open stay so. Where
    something of it can't be nothing is told, and all stands there as it was sent, with what is to
    be mended."""
    menu, typed = menu_now(request), list(_typed(request))
    said = [one for one in typed if not one.is_open]
    if not sales_names.are_known(menu, [n for one in said for n in (one.said, *one.alike)]):
        raise Http404
    wrong = _wrong(said, menu)
    if wrong:
        force = in_force(request.venue, menu.at)
        return show(request, menu, force, [_again(one, menu, force, wrong) for one in typed])
    told = {one.said: one.to(menu) for one in said}
    seen = {one.said: _meant(one.was) for one in said if one.was is not None}
    each = {one.said: one.glasses for one in said if one.glasses}
    done = record_sales.tell_names(
        by=request.membership, told=told, seen=seen, each=each, menu=menu, at=timezone.now(),
        alike={one.said: one.alike for one in said},
    )  # fmt: skip
    _say(request, done, forgotten=set(told.values()) == {record_sales.FORGET})
    return redirect("sales_mix", house=request.venue.slug)


Wrong = dict[str, tuple[str, bool]]
"""By name what is to be mended, and whether that is how many drinks one sale is."""


def _wrong(said: Sequence[_Typed], menu: Menu) -> Wrong:
    wrong, told = Wrong(), dict[str, str | None]()
    number = _("How many drinks one sale is: a number from 1 to %(most)s.")
    for one in said:
        try:
            told[one.said] = one.to(menu)
            _glasses = one.glasses
        except LookupError:
            wrong[one.said] = _gone(one), False
        except ValueError:
            wrong[one.said] = number % {"most": MOST_IN_ONE}, True
    missing = record_sales.tell_of_several(told, menu, record_sales.meanings(menu.venue))
    given = {one.said for one in said if one.each}
    unsaid = _("Say how many drinks one sale of it is, 1 where it is a single one.")
    return {name: (unsaid, True) for name in missing if name not in given} | wrong


def _gone(one: _Typed) -> str:
    if one.typed:
        return _("No drink that is sold is called “%(said)s”. Pick one from the list, or leave it "
                 "open; nothing is told yet.") % {"said": one.typed}  # fmt: skip
    return _("The drink picked here is not sold any more. Pick another, or leave it open; nothing "
             "is told yet.")  # fmt: skip


def _say(request: HouseRequest, done: record_sales.NamesTold, *, forgotten: bool) -> None:
    for name in done.meanwhile:
        messages.error(request, _("Somebody has told “%(said)s” meanwhile: it stays as below. "
                                  "Say otherwise there.") % {"said": name})  # fmt: skip
    if done.hours_left:
        messages.error(request, hours_left_words(done.hours_left))
    if forgotten and done.names:
        messages.success(request, _("Forgotten. It is asked about where it is not clear."))
    elif done.names or not done.meanwhile:
        n = done.names
        messages.success(request, ngettext("%(n)s name told.", "%(n)s names told.", n) % {"n": n})


def _typed(request: HouseRequest) -> Iterator[_Typed]:
    """Of each name `said`, in their order: `drink`, a name that was typed, `was`, and by their
    number what was picked and how many drinks one sale is."""
    said, drinks, was = (request.POST.getlist(name) for name in ("said", "drink", "was"))
    for n, name in enumerate(said):
        yield _Typed(
            said=name,
            picked=request.POST.get(f"pick-{n}", ""),
            typed=drinks[n].strip() if n < len(drinks) else "",
            each=request.POST.get(f"each-{n}", "").strip(),
            was=was[n] if n < len(was) else None,
            alike=tuple(request.POST.getlist(f"alike-{n}")),
        )


def _meant(was: str) -> str | None:
    """As `record_sales.meaning_of` says it."""
    return None if was == NOTHING_TAUGHT else record_sales.FORGET if was == FORGET else was


def _again(one: _Typed, menu: Menu, force: InForce, wrong: Wrong) -> Asked:
    told = record_sales.meanings(menu.venue)
    others = {said: meant for said, meant in told.items() if said != one.said}
    asked = sales_names.asked_with(one.said, one.alike, menu, others, force)
    mend, is_each = wrong.get(one.said, ("", False))
    gone = one.picked not in ("", NOTHING_TAUGHT) and one.picked not in menu.by_slug
    return replace(
        asked,
        picked="" if gone else one.picked,
        typed=one.typed,
        was=_meant(one.was or ""),
        wrong=mend,
        wrong_each=is_each,
        each=one.each or asked.each,
    )
