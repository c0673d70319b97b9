"""Bottles of the house in drinks whose recipes speak of their kind: a premium gin and tonic."""

from __future__ import annotations

from dataclasses import replace

from recipes.grammar.calls import compose
from recipes.grammar.calls.identified import Identity
from recipes.grammar.calls.reading import About, Change, What
from recipes.grammar.calls.stock import spec_key
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.work import Work
from recipes.grammar.house_spec import resolve
from recipes.grammar.ingredients import Ingredient, Step
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import BuildSpec, Part


def bottles_of(book: Book, slug: str, step: Step) -> tuple[str, ...]:
    """The bottles of it that stand on this step; none where it is one itself."""
    return tuple(s for s, i in book.pantry.items() if i.bottle_of == slug and i.step is step)


def _others(book: Book, item: Ingredient) -> tuple[str, ...]:
    """What the house has of a kind: its pour, then its bottles."""
    kind = item.bottle_of or item.slug
    return tuple(s for s, i in book.pantry.items() if kind in (s, i.bottle_of))


def with_its_bottle(book: Book, found: Identity) -> Identity:
    """What is a recipe but for the bottle is that recipe, with that bottle in it."""
    if found.build is None:
        return found
    named = {p.ingredient for p in found.build.parts if book.pantry[p.ingredient].bottle_of}
    if len(named) != 1:
        return found  # no bottle of the house is in it, or nobody knows which one to take out
    [bottle] = named
    plain = book.pantry[bottle].bottle_of
    if plain not in book.pantry:
        return found
    as_usual = compose.with_base(found.build, bottle, plain)
    slug = book.stock.by_spec.get(spec_key(resolve(as_usual, book.rules, book.pantry)))
    if slug is None:
        return found
    build = compose.with_base(book.stock.builds[slug], plain, bottle)
    changes = dict.fromkeys((*found.changes, Change(What.BASE, bottle)))
    why = (*found.why, Reason.of("call_contents", drink=slug))
    name = book.stock.drinks[slug].name
    return replace(found, recipe=slug, build=build, name=name, why=why, changes=tuple(changes))


def pour_from(work: Work, base: Part) -> None:
    """The house's bottle on the step that was called goes in. Of several it is asked which; where
    there is none, which other one: a guest who called a step never gets the house pour unasked."""
    parts, item = work.build.parts, work.book.pantry[base.ingredient]
    step = Step(work.step)
    if item.step is step:
        return
    if any(about is About.BASE for about, _ in work.ask):
        return  # first it is asked of what
    bottles = bottles_of(work.book, item.slug, step)
    if not bottles:
        work.why.append(Reason.of("call_no_step", ingredient=item.slug, step=work.step))
    if len(bottles) != 1:
        work.ask.append((About.BASE, bottles or _others(work.book, item)))
        plain = base.model_copy(update={"ingredient": item.bottle_of or item.slug})
        work.open_base, work.open_at = plain, parts.index(base)
        work.put(parts=tuple(p for p in parts if p is not base) or parts)
    else:
        [bottle] = bottles
        _keep_recipe(work, bottle)
        poured = base.model_copy(update={"ingredient": bottle})
        work.put(parts=tuple(poured if p is base else p for p in parts))
        work.change(What.BASE, bottle)
        work.why.append(Reason.of("call_step", ingredient=bottle, step=work.step))


def with_open_base(work: Work, build: BuildSpec) -> BuildSpec | None:
    """The build with the house's own pour where it is asked which bottle; None where none is."""
    base = work.open_base
    if base is None:
        return None
    left = [p for p in build.parts if p.ingredient != base.ingredient]
    doubled = any(r.code == "call_double" for r in work.why) and len(left) == len(build.parts)
    poured = base.model_copy(update={"amount": (base.amount or 0) * work.factor})
    if len(left) < len(build.parts):
        return build  # a spirit by itself
    left.insert(min(work.open_at, len(left)), poured if doubled else base)
    return build.model_copy(update={"parts": tuple(left)})


def _keep_recipe(work: Work, bottle: str) -> None:
    """A spirit by itself goes by its bottle's name, or is the recipe of how it is served."""
    if work.bare:
        recipes = work.book.stock.by_style.get((work.identity.bare, work.style), ())
        name = work.book.pantry[bottle].name
        work.identity = replace(work.identity, name=name, recipe=next(iter(recipes), None))
