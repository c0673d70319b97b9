from django.urls import URLPattern, URLResolver, path

from recipes.views import book, drink, rules

BOOK = "h/<slug:house>/book"

urlpatterns: list[URLPattern | URLResolver] = [
    path(f"{BOOK}/", book.book, name="book"),
    path(f"{BOOK}/menu/", book.menu_marks, name="menu_marks"),
    path(f"{BOOK}/rules/", rules.house_rules, name="house_rules"),
    path(f"{BOOK}/rules/change/", rules.house_rules_change, name="house_rules_change"),
    path(f"{BOOK}/drink/<slug:slug>/", drink.drink, name="drink"),
    path(f"{BOOK}/drink/<slug:slug>/change/", drink.drink_change, name="drink_change"),
]
