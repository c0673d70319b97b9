from django.urls import URLPattern, URLResolver, path

from recipes.views import book, drink, ingredients, recipes_edit, rules
from recipes.views.allergens import allergens
from recipes.views.off_tonight import off_lift, off_say, off_tonight

BOOK = "h/<slug:house>/book"

urlpatterns: list[URLPattern | URLResolver] = [
    path(f"{BOOK}/", book.book, name="book"),
    path(f"{BOOK}/menu/", book.menu_marks, name="menu_marks"),
    path("h/<slug:house>/off/", off_tonight, name="off_tonight"),
    path("h/<slug:house>/off/say/", off_say, name="off_say"),
    path("h/<slug:house>/off/lift/", off_lift, name="off_lift"),
    path("h/<slug:house>/allergens/", allergens, name="allergens"),
    path(f"{BOOK}/rules/", rules.house_rules, name="house_rules"),
    path(f"{BOOK}/rules/change/", rules.house_rules_change, name="house_rules_change"),
    path(f"{BOOK}/drink/<slug:slug>/", drink.drink, name="drink"),
    path(f"{BOOK}/drink/<slug:slug>/change/", drink.drink_change, name="drink_change"),
    path(f"{BOOK}/drink/<slug:slug>/preview/", recipes_edit.drink_preview, name="drink_preview"),
    path(f"{BOOK}/drink/<slug:slug>/card/", recipes_edit.drink_card, name="drink_card"),
    path(f"{BOOK}/drink/<slug:slug>/retire/", recipes_edit.drink_retire, name="drink_retire"),
    path(
        f"{BOOK}/drink/<slug:slug>/bring-back/",
        recipes_edit.drink_bring_back,
        name="drink_bring_back",
    ),
    path(f"{BOOK}/new-drink/", recipes_edit.drink_new, name="drink_new"),
    path(f"{BOOK}/new-drink/preview/", recipes_edit.drink_new_preview, name="drink_new_preview"),
    path(f"{BOOK}/ingredients/", ingredients.ingredients, name="ingredients"),
    path(f"{BOOK}/new-ingredient/", ingredients.ingredient_new, name="ingredient_new"),
    path(f"{BOOK}/ingredients/<slug:ingredient>/", ingredients.ingredient, name="ingredient"),
    path(
        f"{BOOK}/ingredients/<slug:ingredient>/label/",
        ingredients.ingredient_label,
        name="ingredient_label",
    ),
    path(
        f"{BOOK}/ingredients/<slug:ingredient>/remove/",
        ingredients.ingredient_remove,
        name="ingredient_remove",
    ),
]
