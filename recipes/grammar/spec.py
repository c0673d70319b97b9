"""The recipe as a trainer writes it: how one drink is built, before house rules fill the rest.

What needs no house to be judged is refused here, each refusal a `PydanticCustomError` whose
type is the code of a reason value; what needs glasses, pours and ingredients is refused in
`refusals`. `refusals.read_spec` gives both as one list.
"""

from collections import Counter
from enum import StrEnum
from typing import Self

from pydantic import BaseModel, ConfigDict, Field, model_validator
from pydantic_core import PydanticCustomError

from recipes.grammar.units import COUNTED, Unit


class Ice(StrEnum):
    NONE = "none"
    LIGHT = "light"
    FULL = "full"
    CRUSHED = "crushed"


class Method(StrEnum):
    BUILD = "build"
    SHAKE = "shake"
    STIR = "stir"
    BLEND = "blend"
    LAYER = "layer"
    DRAUGHT = "draught"
    TWO_PART = "two_part"  # a draught pour that settles before it is topped
    OPEN = "open"  # served in its bottle or can


class How(StrEnum):
    MEASURED = "measured"
    TOP = "top"
    FLOAT = "float"
    DASH = "dash"
    FIRST_IN = "first_in"
    MUDDLED = "muddled"


class When(StrEnum):
    ALWAYS = "always"
    ASK = "ask"
    ON_REQUEST = "on_request"


MOST_PARTS = 14
"""More than any drink of the trade has; a file that says more has gone wrong."""


class _Written(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Part(_Written):
    """One thing that goes into the drink.

    A top-up has a `share` of the room that is left and no amount; everything else has an amount.
    """

    ingredient: str = Field(min_length=1, max_length=60)
    how: How = How.MEASURED
    amount: float | None = None
    unit: Unit = Unit.POUR
    share: float = 1.0

    @model_validator(mode="after")
    def _amount_fits(self) -> Self:
        name = {"ingredient": self.ingredient}
        if self.how is How.TOP:
            if self.amount is not None or self.unit is not Unit.POUR:
                raise PydanticCustomError("top_with_amount", "a top-up has no amount", name)
            if not 0 < self.share <= 100:
                raise PydanticCustomError("share_not_positive", "share must be above 0", name)
        elif self.amount is None:
            raise PydanticCustomError("amount_missing", "amount missing", name)
        elif not 0 < self.amount < 5000:
            raise PydanticCustomError("amount_not_positive", "amount must be above 0", name)
        if self.how is How.DASH and self.unit not in (Unit.DASH, Unit.SPLASH):
            raise PydanticCustomError("dash_in_other_unit", "dashes are counted", name)
        return self

    @property
    def is_counted(self) -> bool:
        return self.unit in COUNTED


class Garnish(_Written):
    item: str = Field(min_length=1, max_length=60)  # an ingredient's slug
    when: When = When.ALWAYS


class Rim(_Written):
    item: str = Field(min_length=1, max_length=60)
    wet_with: str | None = None  # an ingredient's slug; None: the drink's own citrus
    half: bool = False


class BuildSpec(_Written):
    """How a drink is built. None means "as the house rules say"; an empty garnish means none."""

    glass: str | None = None
    ice: Ice | None = None
    method: Method = Method.BUILD
    rim: Rim | None = None
    parts: tuple[Part, ...]
    garnish: tuple[Garnish, ...] | None = None
    straw: bool | None = None
    alcohol_free: bool = False

    @model_validator(mode="after")
    def _some_parts(self) -> Self:
        # A length on the field itself would also complain where one part is refused.
        if not self.parts:
            raise PydanticCustomError("no_parts", "nothing in it", {})
        if len(self.parts) > MOST_PARTS:
            raise PydanticCustomError("too_many_parts", "too many parts", {"most": MOST_PARTS})
        return self

    @model_validator(mode="after")
    def _no_part_twice(self) -> Self:
        counts = Counter((p.ingredient, p.how is How.MUDDLED) for p in self.parts)
        twice = next((name for (name, _), n in counts.items() if n > 1), None)
        if twice:
            raise PydanticCustomError("part_twice", "same part twice", {"ingredient": twice})
        return self

    @model_validator(mode="after")
    def _no_garnish_twice(self) -> Self:
        counts = Counter(g.item for g in self.garnish or ())
        twice = next((name for name, n in counts.items() if n > 1), None)
        if twice:
            raise PydanticCustomError("garnish_twice", "same garnish twice", {"ingredient": twice})
        return self

    @model_validator(mode="after")
    def _layers_stand_free(self) -> Self:
        if self.method is not Method.LAYER:
            return self
        if self.ice not in (None, Ice.NONE):
            raise PydanticCustomError("layer_over_ice", "a layered drink takes no ice", {})
        if any(p.how is How.TOP for p in self.parts):
            raise PydanticCustomError("layer_with_top", "a layered drink is measured", {})
        if sum(p.how is How.MEASURED for p in self.parts) < 2:
            raise PydanticCustomError("layer_of_one", "a layer needs two liquids", {})
        return self

    @property
    def mixers(self) -> tuple[Part, ...]:
        return tuple(p for p in self.parts if p.how is How.TOP)

    @property
    def sequence_is_the_drink(self) -> bool:
        """Layers, floats and first-ins: the same liquids in another order are another drink."""
        return self.method is Method.LAYER or any(
            p.how in (How.FLOAT, How.FIRST_IN) for p in self.parts
        )
