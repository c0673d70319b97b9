"""A call in the reader's words: what was heard, what to ask back, and why it is so."""

from __future__ import annotations

import re
from collections.abc import Callable

from django.utils.functional import Promise
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from recipes.grammar.calls import About, CalledDrink, Question, Reading, What
from recipes.grammar.calls.reading import MOST_LETTERS, NONE, Change
from recipes.grammar.ingredients import LiquorClass, Step
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import Ice
from recipes.grammar.steps import build_steps
from recipes.menu import Menu
from recipes.rules_sheet import which_drinks
from recipes.wording import either, label, name_of, step_words, word
from recipes.words_amounts import measure_words

ASKS: dict[About, str | Promise] = {
    About.DRINK: lazy("Which one: %(choices)s?"),
    About.BASE: lazy("Which base: %(choices)s?"),
    About.MIXER: lazy("Which mixer: %(choices)s?"),
    About.SIZE: lazy("Short or tall?"),
    About.STYLE: lazy("How: %(choices)s?"),
    About.GARNISH: lazy("What on it: %(choices)s?"),
}
ASKS_ABOVE: dict[About, str | Promise] = {
    About.DRINK: lazy("Which one?"),
    About.BASE: lazy("Which base?"),
    About.MIXER: lazy("Which mixer?"),
    About.STYLE: lazy("How?"),
    About.GARNISH: lazy("What on it?"),
}
"""Where the choices stand below, each for itself. Short or tall is asked in these words anyway."""
CHOICES: dict[str, str | Promise] = {
    "short": lazy("short"),
    "tall": lazy("tall"),
    "single": lazy("single"),
    "two": lazy("two of them"),
    "three": lazy("three of them"),
    "mixer": lazy("with a mixer"),
    NONE: lazy("nothing"),
}
MOST_CHOICES = 6


def ask_words(question: Question, menu: Menu, drink: CalledDrink | None = None) -> str:
    """The question as a bartender asks it of this drink."""
    if question.about is About.SIZE and question.choices == ("short", "tall"):
        return _("Short or tall?")
    if question.about is About.DRINK and not question.choices:
        return _("This is off tonight, and nothing is like it. What else may it be?")
    names = [offered_words(c, question, drink, menu) for c in question.choices]
    names = [re.sub(r", (.+)$", r" (\1)", n) for n in names]  # "Light Lager, Bottle" is one of them
    more = len(names) - MOST_CHOICES
    said = names[:MOST_CHOICES] + ([_("something else")] if more > 0 else [])
    text = ASKS[question.about] if question.about is not About.SIZE else lazy("%(choices)s?")
    text = _of_what(question, drink) or text
    return capfirst(str(text) % {"choices": either(said)})


BESIDE: dict[What, str | Promise] = {
    What.BACK: lazy("What in the glass beside it: %(choices)s?"),
    What.SPLASH: lazy("A splash of what: %(choices)s?"),
    What.DASH: lazy("A dash of what: %(choices)s?"),
}


BESIDE_ABOVE: dict[What, str | Promise] = {
    What.BACK: lazy("What in the glass beside it?"),
    What.SPLASH: lazy("A splash of what?"),
    What.DASH: lazy("A dash of what?"),
}


def ask_above(question: Question, menu: Menu, drink: CalledDrink) -> str:
    """The question without its choices, which stand below it."""
    if not question.choices or question.about not in ASKS_ABOVE:
        return ask_words(question, menu, drink)
    beside = _beside(question, drink)
    return str(BESIDE_ABOVE[beside] if beside else ASKS_ABOVE[question.about])


def _of_what(question: Question, drink: CalledDrink | None) -> str | Promise | None:
    """The words for a back or a splash of which nobody said what; None for any other question."""
    beside = _beside(question, drink)
    return BESIDE[beside] if beside else None


def _beside(question: Question, drink: CalledDrink | None) -> What | None:
    if drink is None or question.about is not About.MIXER:
        return None
    inside = {p.ingredient for p in drink.build.parts} if drink.build else set()
    if inside & set(question.choices):
        return None
    return next((c.what for c in drink.changes if c.what in BESIDE and not c.item), None)


def offered_words(choice: str, question: Question, drink: CalledDrink | None, menu: Menu) -> str:
    """As it is offered: the house's own pour never as the better bottle that was called."""
    if choice == "single" and drink and (glass := _glass_of_wine(drink, menu)):
        return glass
    text = choice_words(choice, question.about, menu)
    steps = {c.what for c in drink.changes} & {What.CALL, What.PREMIUM} if drink else set()
    own = choice in menu.pantry and menu.pantry[choice].step is Step.HOUSE
    if not steps or not own or question.about is not About.BASE:
        return text
    return _("the house's own %(bottle)s after all") % {"bottle": text}


def _glass_of_wine(drink: CalledDrink, menu: Menu) -> str:
    """The one size that the house pours of a wine; "" of any other drink."""
    [part, *more] = drink.spec.parts if drink.spec else [None]
    if part is None or more or menu.pantry[part.ingredient].liquor_class is not LiquorClass.WINE:
        return ""
    size = measure_words(part.ml or 0.0, menu.rules.country)
    return _("the house's glass (%(size)s)") % {"size": size}


def choice_words(choice: str, about: About, menu: Menu) -> str:
    if about is About.DRINK and choice in menu.by_slug:
        return menu.by_slug[choice].drink.name
    if choice in menu.pantry:
        return menu.names[choice]
    if choice == NONE and about is not About.GARNISH:
        return _("something else")
    if choice in CHOICES:
        return str(CHOICES[choice])
    return label(What(choice)) if choice in set(What) else choice


def change_words(change: Change, menu: Menu) -> str:
    """ "extra: lime wedge", "no ice"."""
    if not change.item:
        return label(change.what)
    names = menu.glass_names if change.what is What.GLASS else menu.names
    told = {"change": label(change.what), "thing": name_of(change.item, names)}
    return _("%(change)s: %(thing)s") % told


def why_words(reason: Reason, menu: Menu) -> str:
    """Which name, word or rule of the house made a choice."""
    readers: dict[str, Callable[[str], str]] = {
        "drink": lambda slug: menu.by_slug[slug].drink.name if slug in menu.by_slug else slug,
        "instead": lambda slug: name_of(slug, menu.names),
        "ice": lambda ice: label(Ice(ice)),
        "step": lambda step: label(Step(step)),
        "style": lambda style: label(What(style)),
        "rule": lambda key: _rule(key, menu),
    }
    values = {k: readers[k](str(v)) if k in readers else v for k, v in reason.values.items()}
    return word(
        Reason.of(reason.code, **values), names=menu.names, glass_names=menu.glass_names,
        country=menu.rules.country,
    )  # fmt: skip


def _rule(key: str, menu: Menu) -> str:
    rule = next((r for r in menu.rules.garnish if r.key == key), None)
    if rule and not (rule.needs or rule.only or rule.families):
        return _("every other drink") if len(menu.rules.garnish) > 1 else _("every drink")
    return which_drinks(rule, menu) if rule else key


def reading_lines(reading: Reading, menu: Menu) -> list[str]:
    """Everything about a call, a line each, for a terminal."""
    lines = [status_words(reading)]
    lines += [_("“%(said)s” read as “%(meant)s”") % {"said": r.said, "meant": r.meant}
              for r in reading.read_as]  # fmt: skip
    for at, drink in enumerate(reading.drinks):
        lines += _drink_lines(drink, menu)
        lines += ["  " + _("Ask: %(question)s") % {"question": ask_words(q, menu, drink)}
                  for q in reading.asks_about(at)]  # fmt: skip
    lines += unsold_lines(reading)
    if reading.unplaced and not (reading.is_too_long or reading.allergy):
        lines.append(_("Not understood: %(words)s") % {"words": ", ".join(reading.unplaced)})
    if reading.did_you_mean:
        meant = [choice_words(c, About.DRINK, menu) for c in reading.did_you_mean]
        lines.append(_("Did you mean %(drinks)s?") % {"drinks": either(meant)})
    return lines


def unsold_lines(reading: Reading) -> list[str]:
    """What the house knows and doesn't have on the menu, and what it has run out of."""
    sold = [_("We don't sell %(drink)s here.") % {"drink": name} for name in reading.not_sold]
    off = [_("%(drink)s is off tonight.") % {"drink": name} for name in reading.off_tonight]
    return sold + off


def status_words(reading: Reading) -> str:
    """How far it was understood, in a sentence."""
    said = label(reading.status)
    if not reading.heard.strip():
        return _("Nothing was said.")
    if reading.is_too_long:
        told = {"letters": len(reading.heard), "most": MOST_LETTERS}
        return (
            _(
                "That is too long for one call: %(letters)s letters, and %(most)s is the most. "
                "Nothing of it was read."
            )
            % told
        )
    if reading.allergy:
        return _(
            "The guest speaks of an allergy. Nothing was read as a drink: look it up, read the "
            "label, and ask the manager before anything is poured."
        )
    if not reading.drinks and not reading.unplaced:
        return _("No drink was named.")
    return said[:1].upper() + said[1:] + "."


def _drink_lines(drink: CalledDrink, menu: Menu) -> list[str]:
    changes = ", ".join(change_words(c, menu) for c in drink.changes)
    lines = [f"{drink.count} × {drink.name}" + (f" ({changes})" if changes else "")]  # noqa: RUF001
    if spec := drink.shown or drink.spec:
        steps = build_steps(spec, menu.pantry)
        told = (step_words(s, glass_names=menu.glass_names, country=menu.rules.country)[0]
                for s in steps)  # fmt: skip
        lines += [f"  {does}" for does in told]
    return lines
