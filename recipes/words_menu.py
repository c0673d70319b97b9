"""How a line of a pasted menu was understood."""

from __future__ import annotations

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as lazy

from recipes.grammar.menu_lines import By

HOW_READ: dict[By, str | Promise] = {
    By.NAME: lazy("by its name"),
    By.SPELT: lazy("by its name, misspelt"),
    By.BUILD: lazy("by what is in it; its name on your menu becomes another name of it"),
    By.PATTERN: lazy("not in the book yet, but its name says how it is built"),
    By.TIE: lazy("more than one drink answers to this"),
    By.CONFLICT: lazy("its name says one drink, what is in it another"),
    By.TWICE: lazy("a line above means this drink already"),
    By.BARE: lazy("a spirit by itself: is it the shot, or the spirit with its mixers?"),
    By.DOUBLE: lazy("a double; the house rules build doubles, so it needs no line of its own"),
    By.DOUBLE_ONLY: lazy("a double of a drink that has no line here; its price is not the drink's"),
    By.LIKE: lazy("no drink of the book is called that; is it one of these?"),
    By.NOTHING: lazy("nothing in the book answers to this"),
    By.HEADING: lazy("looks like a heading"),
}
