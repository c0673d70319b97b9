"""A drink on the menu, as the cores pass it around."""

from dataclasses import dataclass

from recipes.grammar.aspects import Aspect, Topic, aspect_fingerprints, topics
from recipes.grammar.house_spec import HouseSpec, resolve
from recipes.grammar.ingredients import Pantry
from recipes.grammar.rules import HouseRules
from recipes.grammar.spec import BuildSpec


@dataclass(frozen=True)
class Drink:
    """A recipe resolved for one moment. `share` is its part of all sales, 0 to 1."""

    slug: str
    name: str
    module: str
    aliases: tuple[str, ...]
    must_know: bool
    share: float
    spec: HouseSpec
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
        fingerprints=aspect_fingerprints(house),
        topics=topics(slug, house, rules, pantry),
    )
