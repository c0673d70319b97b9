"""Random recipes that this kitchen can build, for the laws that hold for every drink."""

from hypothesis import strategies as st

from recipes.grammar.refusals import problems
from recipes.grammar.spec import BuildSpec, Garnish, Ice, Method, Part, Rim, When
from recipes.grammar.units import Unit
from tests.grammar.kitchen import (
    PANTRY,
    RULES,
    build,
    dashed,
    first_in,
    floated,
    ml,
    muddled,
    pour,
    top,
)

_SPIRITS = ("vodka", "gin", "tequila", "bourbon", "coffee-liqueur", "irish-cream")
_MIXERS = ("cola", "tonic-water", "club-soda", "cranberry-juice", "orange-juice")
_GLASSES = (None, "highball", "rocks", "pint", "hurricane")
_METHODS = (Method.BUILD, Method.SHAKE, Method.STIR, Method.BLEND)


@st.composite
def _parts(draw: st.DrawFn) -> list[Part]:
    spirits = draw(st.lists(st.sampled_from(_SPIRITS), min_size=1, max_size=3, unique=True))
    parts = [pour(s, draw(st.sampled_from((0.5, 1, 1.5)))) for s in spirits]
    if draw(st.booleans()):
        parts.append(ml("lime-juice", draw(st.integers(5, 25))))
    mixers = draw(st.lists(st.sampled_from(_MIXERS), max_size=2, unique=True))
    parts += [top(m, draw(st.sampled_from((1, 1, 2)))) for m in mixers]
    extra = (
        floated("cream", 10),
        first_in("grenadine", 10),
        dashed("bitters"),
        muddled("mint", 5, Unit.LEAF),
        muddled("sugar", 1, Unit.TSP),
    )
    parts += draw(st.lists(st.sampled_from(extra), max_size=3, unique_by=lambda p: p.ingredient))
    return draw(st.permutations(parts))


_garnish = st.none() | st.lists(
    st.builds(
        Garnish, item=st.sampled_from(("lime", "lemon", "cherry")), when=st.sampled_from(When)
    ),
    max_size=3,
    unique_by=lambda g: g.item,
).map(tuple)
_rim = st.none() | st.builds(
    Rim, item=st.sampled_from(("salt", "sugar")), wet_with=st.just("lime"), half=st.booleans()
)


@st.composite
def _mixed(draw: st.DrawFn) -> BuildSpec:
    return build(
        *draw(_parts()),
        method=draw(st.sampled_from(_METHODS)),
        glass=draw(st.sampled_from(_GLASSES)),
        ice=draw(st.none() | st.sampled_from(Ice)),
        rim=draw(_rim),
        garnish=draw(_garnish),
        straw=draw(st.none() | st.booleans()),
    )


@st.composite
def _layered(draw: st.DrawFn) -> BuildSpec:
    slugs = draw(st.lists(st.sampled_from(_SPIRITS), min_size=2, max_size=4, unique=True))
    return build(*(ml(s, 12) for s in slugs), method=Method.LAYER, garnish=draw(_garnish))


@st.composite
def _beers(draw: st.DrawFn) -> BuildSpec:
    slugs = draw(st.lists(st.sampled_from(("lager", "stout", "cider")), min_size=1, unique=True))
    method = draw(st.sampled_from((Method.DRAUGHT, Method.TWO_PART)))
    return build(*(top(s) for s in slugs), method=method)


def recipes() -> st.SearchStrategy[BuildSpec]:
    """Recipes without a reason to refuse them: mixed, layered and drawn."""
    return (_mixed() | _layered() | _beers()).filter(lambda s: not problems(s, RULES, PANTRY))
