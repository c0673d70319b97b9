"""A drink on its way from what was named to what is built."""

from __future__ import annotations

from dataclasses import dataclass, field

from recipes.grammar.calls.identified import Ask, Identity
from recipes.grammar.calls.reading import About, Change, What
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import BuildSpec, How, Part


@dataclass(eq=False, slots=True)
class Work:
    book: Book
    identity: Identity
    build: BuildSpec
    ask: list[Ask]
    why: list[Reason]
    changes: list[Change] = field(default_factory=list)
    refused: list[int] = field(default_factory=list)
    factor: int = 1
    tall: bool = False
    short: bool = False
    style: str = ""
    ways: list[str] = field(default_factory=list)  # of serving it, as they were said
    step: str = ""  # above the house pour
    open_base: Part | None = None  # the house's own, while it is asked which bottle
    open_at: int = 0  # its place among the parts
    gone: bool = False
    moves_on: bool = False  # what was asked for may make it another recipe
    other: bool = False  # no longer the recipe that was named
    meant: tuple[str, ...] = ()
    asked_for: frozenset[str] = frozenset()
    added: list[Part] = field(default_factory=list)
    beside: list[HouseSpec] = field(default_factory=list)  # in glasses of their own

    @property
    def bare(self) -> bool:
        """A spirit by itself, without a recipe that says how it is served."""
        return bool(self.identity.bare) and self.identity.recipe is None

    @property
    def name(self) -> str:
        return self.identity.name

    @property
    def kept_recipe(self) -> str | None:
        return None if self.other else self.identity.recipe

    @property
    def tops(self) -> tuple[Part, ...]:
        return tuple([p for p in self.build.parts if p.how is How.TOP])

    def change(self, what: What, item: str = "") -> None:
        self.changes.append(Change(what, item))

    def put(self, **fields: object) -> None:
        self.build = self.build.model_copy(update=fields)

    def is_open(self) -> bool:
        return any(about in (About.BASE, About.MIXER, About.DRINK) for about, _ in self.ask)
