"""A drink on the menu, as the cores pass it around."""

from dataclasses import dataclass

from recipes.grammar.aspects import Aspect, Content, Topic, aspect_fingerprints, contents, topics
from recipes.grammar.house_spec import HouseSpec, resolve
from recipes.grammar.ingredients import Pantry
from recipes.grammar.rules import HouseRules
from recipes.grammar.spec import BuildSpec
from recipes.grammar.traits import Traits, traits


@dataclass(frozen=True)
class Drink:
    """A recipe resolved for one moment. `share` is its part of all sales, 0 to 1.

    What follows from the spec is worked out once: a quiz reads it thousands of times.
    """

    slug: str
    name: str
    module: str
    aliases: tuple[str, ...]
    must_know: bool
    share: float
    spec: HouseSpec
    contents: dict[Aspect, Content]
    traits: Traits
    fingerprints: dict[Aspect, str]
    topics: tuple[Topic, ...]

    def topics_of(self, aspect: Aspect) -> tuple[Topic, ...]:
        return tuple(t for t in self.topics if t.aspect is aspect)


def make_drink(
    *,
    slug: str,
    name: str,
    module: str,
    spec: BuildSpec,
    rules: HouseRules,
    pantry: Pantry,
    aliases: tuple[str, ...] = (),
    must_know: bool = False,
    share: float = 0.0,
) -> Drink:
    house = resolve(spec, rules, pantry)
    return Drink(
        slug=slug,
        name=name,
        module=module,
        aliases=aliases,
        must_know=must_know,
        share=share,
        spec=house,
        contents=contents(house),
        traits=traits(house),
        fingerprints=aspect_fingerprints(house),
        topics=topics(slug, house, rules, pantry),
    )
