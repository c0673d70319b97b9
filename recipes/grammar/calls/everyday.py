"""An everyday word beside a drink that has the thing in another form: "no sugar" where syrup is in
it, "no lime" where lime is both squeezed into it and put on it."""

from __future__ import annotations

from recipes.grammar.calls.reading import What
from recipes.grammar.calls.tokens import words_of
from recipes.grammar.calls.work import Work
from recipes.grammar.house_spec import HouseSpec, resolve
from recipes.grammar.ingredients import Kind
from recipes.grammar.spec import Garnish, How, Part, Rim, When

SUGAR = "sugar"
_SWEET = frozenset({
    Kind.SYRUP, Kind.SOUR_MIX, Kind.SODA_MIXER, Kind.JUICE, Kind.LIQUEUR, Kind.CREAM_LIQUEUR,
})  # fmt: skip


def is_sugar(work: Work, item: str) -> bool:
    thing = work.book.pantry.get(item)
    return thing is not None and thing.kind is Kind.RIM and SUGAR in words_of(thing.name)


def is_on_the_rim(work: Work, item: str) -> bool:
    return bool(work.build.rim and work.build.rim.item == item)


def unsweetened(work: Work, item: str, place: int) -> None:
    """Whatever is sugar is left out, the rim as well. What is sweet by nature can't be."""
    sugars = _sugars(work)
    rimmed = is_on_the_rim(work, item)
    if rimmed:
        work.put(rim=None)
        work.change(What.NO_RIM)
    for slug in sugars:
        work.put(parts=tuple(p for p in work.build.parts if p.ingredient != slug))
        work.change(What.NO, slug)
        work.moves_on = True
    kinds = {work.book.pantry[p.ingredient].kind for p in work.build.parts}
    if not rimmed and not sugars and kinds & _SWEET:
        work.refused.append(place)


def _sugars(work: Work) -> tuple[str, ...]:
    """What of the drink is called sugar, by any of its names: syrup, a cube."""
    pantry = work.book.pantry
    parts = (pantry[p.ingredient] for p in work.build.parts)
    return tuple(i.slug for i in parts if any(SUGAR in words_of(n) for n in (i.name, *i.aliases))
                 and not work.book.stock.is_strong(i.slug))  # fmt: skip


def flavoured(work: Work, item: str) -> tuple[Part, ...]:
    """What is in the drink, and no base or top of it, with the flavour of a thing put on drinks."""
    stock = work.book.stock
    core = stock.cores.get(item)
    return tuple(
        p for p in work.build.parts
        if stock.cores.get(p.ingredient) == core and p.how is not How.TOP
        and not stock.is_strong(p.ingredient)
    )  # fmt: skip


def in_or_on(work: Work, item: str, now: list[Garnish]) -> list[Garnish] | None:
    """Said of what is both in the drink and on it: which one is asked. None where it is in one
    place only, or is cut of the same piece (mint in a mojito)."""
    stock = work.book.stock
    core = stock.cores.get(item)
    plain = work.book.entry_for((core or item).replace("-", " "))
    if plain is None or item not in plain.items:
        return None  # "no lime wheel" says which
    mine = [g for g in now if stock.cores.get(g.item) == core and g.when is not When.ON_REQUEST]
    poured = [p for p in flavoured(work, item) if p.how is not How.MUDDLED]
    if not mine or not poured:
        return None
    return [Garnish(item=g.item, when=When.ASK) if g in mine else g for g in now]


def kept_off(work: Work, item: str) -> tuple[str, ...]:
    """What is left out of the drink at "no lime", "no mint": all of it that is muddled, and what
    is nowhere but in it."""
    poured = flavoured(work, item)
    muddled = tuple(p.ingredient for p in poured if p.how is How.MUDDLED)
    if muddled or not poured or _is_on(work, item):
        return muddled
    return tuple(p.ingredient for p in poured)


def _is_on(work: Work, item: str) -> bool:
    cores = work.book.stock.cores
    try:
        on_it = resolve(work.build, work.book.rules, work.book.pantry).garnish
    except KeyError:
        return True
    return any(cores.get(g.item) == cores.get(item) for g in on_it)


def rims(work: Work, item: str) -> bool:
    """Salt goes on the rim, unless the drink has it beside it anyway."""
    pantry = work.book.pantry
    beside = any(g.item == item for g in work.build.garnish or ())
    return item in pantry and pantry[item].kind is Kind.RIM and not beside


def unrimmed(work: Work) -> None:
    work.put(rim=None)
    work.change(What.NO_RIM)


def rimmed(work: Work, code: str, item: str, place: int) -> None:
    """Wet with the drink's own citrus, else with a lime."""
    pantry = work.book.pantry
    if item not in pantry or (code != "rim" and is_sugar(work, item)
                              and not is_on_the_rim(work, item)):  # fmt: skip
        work.refused.append(place)  # more sugar is in it, and nobody measures that
        return
    if work.build.rim and work.build.rim.item == item:
        work.put(rim=work.build.rim.model_copy(update={"half": False}))
    else:
        cores = work.book.stock.cores
        citrus = [
            s for s in pantry if cores[s] in ("lime", "lemon") and pantry[s].kind is Kind.FRUIT
        ]
        wet = next(iter(citrus), None)
        work.put(rim=Rim(item=item, wet_with=wet))
    work.change(What.RIM, item)
    work.moves_on = True


def known_by_its_rim(work: Work) -> None:
    """Gin, grapefruit and a salt rim are the house's one drink of just that, with what the house
    puts on it: said by its ingredients nobody names the lime."""
    rim = work.build.rim
    if rim is None or work.identity.recipe or not any(c.what is What.RIM for c in work.changes):
        return
    poured = {(p.ingredient, p.how) for p in work.build.parts}
    found = [
        slug
        for slug, drink in work.book.stock.drinks.items()
        if drink.spec.rim
        and drink.spec.rim.item == rim.item
        and {(p.ingredient, p.how) for p in drink.spec.parts} == poured
    ]
    if len(found) == 1:
        own = work.book.stock.builds[found[0]]
        work.put(rim=own.rim, garnish=own.garnish)
        work.moves_on = True


def nothing_else(
    work: Work, base: HouseSpec, put: tuple[Garnish, ...] | None, ops: tuple[tuple[str, str], ...]
) -> None:
    """ "Only ice", "just lime" where more than that goes on it, "a garnish" where nothing does:
    handed back, since what comes off or on nobody knows."""
    on_it = {g.item for g in (put if put is not None else base.garnish)}
    said = {c.item for c in work.changes}
    bare = not on_it and not work.build.rim
    for place, (code, _) in enumerate(ops):
        if (code == "only" and not (bare or on_it <= said)) or (code == "garnish" and not on_it):
            work.refused.append(place)
