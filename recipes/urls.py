from django.urls import URLPattern, URLResolver, path

from recipes.views import (
    book,
    calls,
    compare,
    drink,
    exporting,
    importing,
    ingredients,
    lessons,
    pasting,
    prices,
    questions,
    recipes_edit,
    rules,
)
from recipes.views.allergens import allergens
from recipes.views.off_tonight import off_lift, off_say, off_tonight
from recipes.views.rules_change import (
    house_rules_change,
    house_rules_garnish,
    house_rules_glasses,
    house_rules_ice,
    house_rules_kinds,
    house_rules_preset,
    house_rules_words,
)

BOOK = "h/<slug:house>/book"
MODULE = f"{BOOK}/module/<slug:module>"
LESSON = f"{MODULE}/lesson/<slug:lesson>"

urlpatterns: list[URLPattern | URLResolver] = [
    path(f"{BOOK}/", book.book, name="book"),
    path(f"{BOOK}/menu/", book.menu_marks, name="menu_marks"),
    path("h/<slug:house>/off/", off_tonight, name="off_tonight"),
    path("h/<slug:house>/off/say/", off_say, name="off_say"),
    path("h/<slug:house>/off/lift/", off_lift, name="off_lift"),
    path("h/<slug:house>/calls/", calls.calls, name="calls"),
    path("h/<slug:house>/allergens/", allergens, name="allergens"),
    path(f"{BOOK}/rules/", rules.house_rules, name="house_rules"),
    path(f"{BOOK}/rules/change/", house_rules_change, name="house_rules_change"),
    path(f"{BOOK}/rules/kinds/", house_rules_kinds, name="house_rules_kinds"),
    path(f"{BOOK}/rules/glasses/", house_rules_glasses, name="house_rules_glasses"),
    path(f"{BOOK}/rules/ice/", house_rules_ice, name="house_rules_ice"),
    path(f"{BOOK}/rules/garnish/", house_rules_garnish, name="house_rules_garnish"),
    path(f"{BOOK}/rules/words/", house_rules_words, name="house_rules_words"),
    path(f"{BOOK}/rules/preset/", house_rules_preset, name="house_rules_preset"),
    path(f"{BOOK}/import/", importing.book_import, name="book_import"),
    path(f"{BOOK}/paste/", pasting.book_paste, name="book_paste"),
    path(f"{BOOK}/export.csv", exporting.book_export, name="book_export"),
    path(f"{BOOK}/drink/<slug:slug>.jsonld", exporting.drink_data, name="drink_data"),
    path(f"{BOOK}/drink/<slug:slug>/", drink.drink, name="drink"),
    path(f"{BOOK}/drink/<slug:slug>/change/", drink.drink_change, name="drink_change"),
    path(f"{BOOK}/drink/<slug:slug>/preview/", recipes_edit.drink_preview, name="drink_preview"),
    path(f"{BOOK}/drink/<slug:slug>/compare/", compare.drink_compare, name="drink_compare"),
    path(f"{BOOK}/drink/<slug:slug>/card/", recipes_edit.drink_card, name="drink_card"),
    path(f"{BOOK}/drink/<slug:slug>/retire/", recipes_edit.drink_retire, name="drink_retire"),
    path(
        f"{BOOK}/drink/<slug:slug>/bring-back/",
        recipes_edit.drink_bring_back,
        name="drink_bring_back",
    ),
    path(
        f"{BOOK}/drink/<slug:slug>/take-back/",
        recipes_edit.drink_take_back,
        name="drink_take_back",
    ),
    path(f"{BOOK}/new-drink/", recipes_edit.drink_new, name="drink_new"),
    path(f"{BOOK}/new-drink/preview/", recipes_edit.drink_new_preview, name="drink_new_preview"),
    path(f"{BOOK}/prices/", prices.prices, name="prices"),
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
    path(f"{BOOK}/lessons/", lessons.lessons, name="lessons"),
    path(f"{MODULE}/notes/", lessons.module_notes, name="module_notes"),
    path(f"{MODULE}/new-lesson/", lessons.lesson_new, name="lesson_new"),
    path(f"{LESSON}/", lessons.lesson_edit, name="lesson_edit"),
    path(f"{LESSON}/move/", lessons.lesson_move, name="lesson_move"),
    path(f"{LESSON}/remove/", lessons.lesson_remove, name="lesson_remove"),
    path(f"{LESSON}/new-question/", questions.question_new, name="question_new"),
    path(f"{LESSON}/question/<slug:question>/", questions.question_edit, name="question_edit"),
    path(
        f"{LESSON}/question/<slug:question>/remove/",
        questions.question_remove,
        name="question_remove",
    ),
]
