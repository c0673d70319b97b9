"""The ice of a drink at a guest's word: what the house has a rule for; what comes cold anyway."""

from __future__ import annotations

from recipes.grammar.calls.work import Work
from recipes.grammar.ingredients import Kind
from recipes.grammar.rules import Family, family
from recipes.grammar.spec import Ice, Method

WITHOUT_ICE = frozenset({Family.BLENDED, Family.BOTTLE, Family.DRAUGHT, Family.SHOT, Family.UP})
_CHILLED = frozenset({Kind.BEER, Kind.CIDER, Kind.SPARKLING, Kind.LOW_NO})


def ice_of(work: Work, kind: Family) -> Ice:
    """What the house serves this with, before the guest says otherwise."""
    return work.build.ice or work.book.rules.default_ice.get(kind, Ice.NONE)


def has_such_ice(work: Work, code: str, kind: Family) -> bool:
    """Whether the house has a rule for it: light or full ice in place of its cubes, crushed ice
    where any drink of the house is served with it. Into what comes without ice none is put, and
    neither more nor less of crushed ice is any house's measure."""
    if kind in WITHOUT_ICE or work.build.method is Method.LAYER:
        return False
    if code == "crushed_ice":
        return any(d.spec.ice is Ice.CRUSHED for d in work.book.stock.drinks.values())
    return code == "full_ice" or ice_of(work, kind) is not Ice.CRUSHED


def comes_cold(work: Work) -> bool:
    """Anyway: whiskey neat and red wine do not."""
    if work.bare and not work.style:
        return False
    mixed = work.build.method in (Method.SHAKE, Method.STIR, Method.BLEND)
    chilled = any(work.book.pantry[p.ingredient].kind in _CHILLED for p in work.build.parts)
    return mixed or chilled or ice_of(work, family(work.build)) is not Ice.NONE
