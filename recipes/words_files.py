"""What is wrong with a course file, with house rules or with a recipe typed as lines."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as lazy

from recipes.grammar.words_owned import PATTERN, SERVING, SLANG

SECTIONS: dict[str, str | Promise] = {
    PATTERN: lazy("a word that makes a drink of any base"),
    SERVING: lazy("a word that says how much"),
    SLANG: lazy("a word for an ingredient"),
}
"""What a word of the house rules is, by its section."""
FILES: dict[str, str | Promise] = {
    "file_missing": lazy("This file is not there."),
    "not_text": lazy("This file is not plain text. Save it as UTF-8."),
    "toml_syntax": lazy("It stops making sense here: %(said)s."),
    "slug_twice": lazy("“%(slug)s” is taken already, in %(other_file)s. Give each its own."),
    "alias_twice": lazy(
        "“%(alias)s” already means %(other)s, in %(other_file)s. One name, one thing."
    ),
    "unknown_allergen": lazy(
        "“%(allergen)s” is not one of the allergens on the list. Check how it is spelt."
    ),
    "right_out_of_range": lazy(
        "The right answer is number %(right)s, counted from 0, but there are %(choices)s answers."
    ),
    "choice_twice": lazy("Two answers say the same, so nobody could tell which is right."),
    "unknown_word": lazy(
        "“%(word)s” is no ingredient, kind or class here, so this rule would never match."
    ),
    "line_without_ingredient": lazy("An amount without anything to pour. Say what it is."),
    "misspelt_ingredient": lazy("There is no “%(said)s” here. Did you mean %(ingredient)s?"),
    "number_unreadable": lazy("“%(said)s” is no amount. Write 1, 1.5, ½ or 1 1/2."),
    "amount_negative": lazy(
        "“%(said)s” is less than nothing, and nobody can pour that. Write it without the minus."
    ),
    "amount_range": lazy(
        "“%(said)s” is two amounts, and everybody would build another drink. Write one of them."
    ),
    "unknown_unit": lazy(
        "“%(said)s” is no measure of %(ingredient)s. Write pour, ml, cl, fl oz, teaspoon, bar "
        "spoon, dash or splash."
    ),
    "slang_without_meaning": lazy("“%(said)s” needs both: the word, and what it means."),
    "slang_said_twice": lazy(
        "“%(word)s” can't mean both %(stock)s and %(ingredient)s. Keep one of them."
    ),
    "pattern_without_meaning": lazy("“%(said)s” needs both: the word, and what tops the base up."),
    "serving_without_meaning": lazy("“%(said)s” needs both: the word, and how much it means."),
    "said_twice": lazy("“%(word)s” stands in line %(earlier)s already. Keep one of them."),
    "tolerance_too_large": lazy(
        "A pour may not be off by more than half of the smallest pour: nobody could tell one from "
        "none."
    ),
    "garnish_twice_in_rule": lazy(
        "A garnish rule puts %(ingredient)s on twice. Keep one: always, asked or on request."
    ),
    "glass_named_twice": lazy("Two glasses are called “%(named)s”. Give one of them another name."),
    "word_of_a_drink": lazy(
        "“%(word)s” can't be %(section)s: the drink %(owner)s is called that already. "
        "One name, one thing."
    ),
    "word_of_an_ingredient": lazy(
        "“%(word)s” can't be %(section)s: the ingredient %(owner)s is called that already. "
        "One name, one thing."
    ),
    "word_of_another": lazy(
        "“%(word)s” can't mean %(means)s: the ingredient %(owner)s is called that already. "
        "One name, one thing."
    ),
    "word_is_a_call": lazy(
        "“%(word)s” can't be %(section)s: the house already understands it as %(means)s, with what "
        "is said beside it."
    ),
    "word_is_a_kind": lazy(
        "“%(word)s” can't be %(section)s: guests mean any of that kind by it. One name, one thing."
    ),
    "word_is_a_way": lazy(
        "“%(word)s” can't be %(section)s: guests say that of any drink, for how many, how much or "
        "how it is served. One name, one thing."
    ),
    "word_of_two": lazy(
        "“%(word)s” can't be %(section)s: it is %(already)s already. One name, one thing."
    ),
    "which_pint": lazy("Which pint? Write US pint or imperial pint: they are not the same size."),
}
