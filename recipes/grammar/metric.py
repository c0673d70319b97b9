"""A course in US fluid ounces as a house takes it over that counts in millilitres.

Common practice, no source: metric lists write 30 ml where US ones write an ounce, so ½ is 15 and
¼ is 7.5 ml. Pours stay pours: the house's rules say how much those are.
"""

from dataclasses import replace

from recipes.grammar.course import Course, CourseDrink
from recipes.grammar.spec import Part
from recipes.grammar.units import Unit

ML_FOR_AN_OUNCE = 30.0
"""What stands in a metric list, not what an ounce is: for that see `units.US_FLOZ_ML`."""


def in_millilitres(course: Course) -> Course:
    """The same course; every amount of its drinks that was in US fluid ounces is in millilitres."""
    modules = tuple(
        replace(module, drinks=tuple(_drink(drink) for drink in module.drinks))
        for module in course.modules
    )
    return replace(course, modules=modules)


def _drink(drink: CourseDrink) -> CourseDrink:
    parts = tuple(_part(part) for part in drink.spec.parts)
    return replace(drink, spec=drink.spec.model_copy(update={"parts": parts}))


def _part(part: Part) -> Part:
    if part.unit is not Unit.FLOZ or part.amount is None:
        return part
    amount = round(part.amount * ML_FOR_AN_OUNCE, 3)
    return part.model_copy(update={"amount": amount, "unit": Unit.ML})
