"""Drinks of the small test menu, and random drinks that are often alike."""

from collections.abc import Mapping
from typing import Any

from hypothesis import strategies as st

from assessments.measures.quiz import Scenario
from recipes.grammar.drink import Drink, make_drink
from recipes.grammar.spec import BuildSpec, Garnish, How, Ice, Method, Part, When
from recipes.grammar.units import Unit
from tests.grammar.kitchen import MENU, PANTRY, RULES


def drink(slug: str, spec: BuildSpec | None = None, **said: Any) -> Drink:
    """A drink of the test menu, or of a spec of one's own."""
    said = {"name": slug.replace("-", " ").title(), "module": "test", "rules": RULES, **said}
    return make_drink(slug=slug, spec=spec or MENU[slug], pantry=PANTRY, **said)


def menu(**said: Mapping[str, Any]) -> tuple[Drink, ...]:
    """All drinks of the test menu; say more of one by its slug with underscores."""
    more = {slug.replace("_", "-"): facts for slug, facts in said.items()}
    return tuple(drink(slug, **more.get(slug, {})) for slug in MENU)


def scenario(slug: str, *, critical: bool = False, right: int = 0, subject: str = "") -> Scenario:
    return Scenario(
        slug=slug,
        question=f"What about {slug}?",
        choices=(f"{slug} stop", f"{slug} go", f"{slug} wait", f"{slug} run"),
        right=right,
        critical=critical,
        why=f"{slug} matters",
        subject=subject,
    )


_POURED = ("vodka", "gin", "tequila", "coffee-liqueur")
_TOPS = ("cola", "orange-juice", "cranberry-juice", "tonic-water")
_amounts = st.sampled_from(
    [(1, Unit.POUR), (1, Unit.FLOZ), (30, Unit.ML), (2, Unit.POUR), (2, Unit.DASH), (3, Unit.DASH)]
)


@st.composite
def _measured(draw: st.DrawFn) -> list[Part]:
    bottles = draw(st.lists(st.sampled_from(_POURED), min_size=1, max_size=3, unique=True))
    places = st.sampled_from([How.MEASURED, How.MEASURED, How.FLOAT, How.FIRST_IN])
    parts = []
    for bottle in bottles:
        amount, unit = draw(_amounts)
        how = How.DASH if unit is Unit.DASH else draw(places)
        parts.append(Part(ingredient=bottle, how=how, amount=amount, unit=unit))
    return parts


@st.composite
def specs(draw: st.DrawFn) -> BuildSpec:
    """Builds from few bottles and mixers, so that two of them often share an aspect or all."""
    measured = draw(_measured())
    tops = draw(st.lists(st.sampled_from(_TOPS), max_size=2, unique=True))
    methods = [Method.BUILD, Method.BUILD, Method.SHAKE, Method.BLEND, Method.OPEN]
    if not tops and sum(p.how is How.MEASURED for p in measured) > 1:
        methods += [Method.LAYER] * 5
    method = draw(st.sampled_from(methods))
    ices = [None, Ice.NONE] if method is Method.LAYER else [None, Ice.FULL, Ice.LIGHT, Ice.NONE]
    garnish = [None, (), (Garnish(item="lime"),), (Garnish(item="lime", when=When.ASK),)]
    return BuildSpec(
        glass=draw(st.sampled_from([None, None, "rocks", "shot"])),
        ice=draw(st.sampled_from(ices)),
        method=method,
        parts=(*measured, *(Part(ingredient=t, how=How.TOP) for t in tops)),
        garnish=draw(st.sampled_from(garnish)),
        straw=draw(st.sampled_from([None, True])),
        alcohol_free=draw(st.sampled_from([False, False, True])),
    )


@st.composite
def menus(draw: st.DrawFn, most: int = 12) -> list[Drink]:
    """Random drinks; now and then two of them go by one name."""
    built = draw(st.lists(specs(), min_size=1, max_size=most))
    return [
        drink(
            f"drink-{number}",
            spec,
            name=f"Drink {number}",
            aliases=draw(st.sampled_from([(), (), (), ("Usual",)])),
            must_know=draw(st.booleans()),
        )
        for number, spec in enumerate(built)
    ]
