from recipes.models.ingredient import Ingredient
from recipes.models.module import Lesson, Module, ModuleAtStation, Scenario
from recipes.models.off_tonight import OffTonight
from recipes.models.recipe import Recipe, Revision
from recipes.models.rules import RulesVersion

__all__ = [
    "Ingredient",
    "Lesson",
    "Module",
    "ModuleAtStation",
    "OffTonight",
    "Recipe",
    "Revision",
    "RulesVersion",
    "Scenario",
]
