"""What a call was understood to mean: drinks as called, what to ask back, what was not placed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property

from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import BuildSpec


class Status(StrEnum):
    """Ready: it can be built without a word. Words that nobody placed never leave it ready."""

    READY = "ready"
    ASK = "ask"
    UNKNOWN = "unknown"  # nothing in it is a drink of the house


class About(StrEnum):
    """What is asked back."""

    DRINK = "drink"
    BASE = "base"
    MIXER = "mixer"
    SIZE = "size"
    STYLE = "style"
    GARNISH = "garnish"


NONE = "none"
"""The choice of having nothing; of another base than all that are there."""


class AskKind(StrEnum):
    """Which drink it is, or only how it is served."""

    IDENTITY = "identity"
    SERVICE = "service"


IDENTITY = frozenset({About.DRINK, About.BASE, About.MIXER})


class What(StrEnum):
    """How a drink as called differs from the drink as the house serves it unasked."""

    DOUBLE = "double"
    TRIPLE = "triple"
    TALL = "tall"
    SHORT = "short"
    PINT = "pint"
    HALF = "half"
    NEAT = "neat"
    ROCKS = "rocks"
    UP = "up"
    SHOT = "shot"
    VIRGIN = "virgin"
    CALL = "call"  # a step above the house's pour
    PREMIUM = "premium"  # two steps
    DIRTY = "dirty"
    DRY = "dry"
    EXTRA_DRY = "extra_dry"
    NO_ICE = "no_ice"
    LIGHT_ICE = "light_ice"
    FULL_ICE = "full_ice"
    CRUSHED_ICE = "crushed_ice"
    NO_GARNISH = "no_garnish"
    NO_RIM = "no_rim"
    NO_STRAW = "no_straw"
    STRAW = "straw"
    # These are about something, an ingredient or a glass by its slug:
    RIM = "rim"
    WITH = "with"
    EXTRA = "extra"
    NO = "no"
    SPLASH = "splash"
    DASH = "dash"
    BACK = "back"  # in a small glass of its own, beside the drink
    SIDE = "side"  # a garnish beside the drink
    GLASS = "glass"
    BASE = "base"  # another base than the recipe has
    MIXER = "mixer"  # another mixer than the recipe has


@dataclass(frozen=True)
class Change:
    """One difference; `item` is the slug that it is about, or empty."""

    what: What
    item: str = ""

    @property
    def code(self) -> str:
        """ "no_ice", "extra:lime-wedge"."""
        return f"{self.what.value}:{self.item}" if self.item else self.what.value


@dataclass(frozen=True)
class Question:
    """What has to be asked about the drink at this index of the reading.

    Choices are drinks by slug (drink), ingredients by slug (base, mixer, garnish; `NONE` among
    them is an answer too), "short" and "tall", or "single" and "two" or "three" of them (size),
    "neat", "rocks", "up", "shot" and "mixer"
    (style). Likeliest first.
    """

    drink: int
    about: About
    choices: tuple[str, ...]

    @property
    def kind(self) -> AskKind:
        return AskKind.IDENTITY if self.about in IDENTITY else AskKind.SERVICE


@dataclass(frozen=True)
class CalledDrink:
    """A drink as it was called.

    `spec` is what to build, with size, style and changes in it: steps, drawing and strength work
    on it. Where a question is open it holds what is known so far (short for an open size, the
    garnish still to be asked); None where nothing is, not even a base.
    `recipe` is the slug of the recipe that this is, None for a drink that only its ingredients
    name. `why` says for each choice which name, pattern, word or rule of the house made it.
    `shown` is there while it is asked which bottle of its base goes in: what is built with the
    house's own, to be looked at and never poured.
    """

    count: int
    recipe: str | None
    name: str
    build: BuildSpec | None
    spec: HouseSpec | None
    changes: tuple[Change, ...] = ()
    why: tuple[Reason, ...] = ()
    shown: HouseSpec | None = None


@dataclass(frozen=True)
class ReadAs:
    """A misspelt or shortened word, and what it was taken for."""

    said: str
    meant: str


MOST_LETTERS = 4000
"""Of a call. Sixty drinks with two changes each have half as many (our own choice)."""


@dataclass(frozen=True)
class Reading:
    """A whole call. `unplaced` are the words that mean nothing here, as they were said;
    `did_you_mean` are up to three drinks or ingredients (by slug) that these may have been, and
    `meant_for` the words of the call that each of them may be; "" for all of `unplaced`.
    `not_sold` are names among the words: of drinks that the house knows, or the trade, and that are
    not on the menu; `off_tonight` of drinks that are, with something in them out. `allergy`: the
    guest speaks of one, so nothing of it was read as a drink."""

    heard: str
    status: Status
    drinks: tuple[CalledDrink, ...] = ()
    ask: tuple[Question, ...] = ()
    read_as: tuple[ReadAs, ...] = ()
    unplaced: tuple[str, ...] = ()
    not_sold: tuple[str, ...] = ()
    off_tonight: tuple[str, ...] = ()
    allergy: bool = False
    suggest: Callable[[], dict[str, str]] | None = field(default=None, compare=False, repr=False)

    @cached_property
    def _suggested(self) -> dict[str, str]:
        """Reckoned once somebody asks: it takes longer than all of the reading."""
        return self.suggest() if self.suggest else {}

    @property
    def did_you_mean(self) -> tuple[str, ...]:
        return tuple(self._suggested)

    @property
    def meant_for(self) -> tuple[str, ...]:
        return tuple(self._suggested.values())

    @property
    def is_too_long(self) -> bool:
        """More than anybody says at a bar: nothing of it was read, and nothing was cut off."""
        return len(self.heard) > MOST_LETTERS

    def asks_about(self, drink: int) -> tuple[Question, ...]:
        return tuple(q for q in self.ask if q.drink == drink)

    def is_measured(self, drink: int) -> bool:
        """False while it is asked what goes into it: then nobody knows how strong it is, nor what
        fills it up. The house's own pour, shown while a better one is asked for, is known; what
        stands beside it is in no glass of it."""
        called = self.drinks[drink]
        beside = any(c.what is What.BACK and not c.item for c in called.changes)
        asked = {q.about for q in self.asks_about(drink)}
        base = About.BASE in asked and called.shown is None
        return not (base or (About.MIXER in asked and not beside))

    @property
    def count(self) -> int:
        """How many glasses stand on the bar in the end."""
        return sum(d.count for d in self.drinks)
