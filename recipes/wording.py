"""Words for what the grammar says in values: refusals, steps, aspects, amounts and labels.

The grammar returns codes; everything a reader sees of it is worded here, in the language that
is active when the function is called.
"""

from collections.abc import Callable, Mapping

from django.utils.functional import Promise
from django.utils.translation import gettext as _

from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.reasons import Reason, Value
from recipes.grammar.rules import MeasuredBy
from recipes.grammar.steps import CHOICE, BuildStep
from recipes.words_amounts import (
    amount_words,
    number_words,
    part_words,
    share_words,
    volume_words,
)
from recipes.words_aspects import Names, aspect_words, drink_card, either, name_of
from recipes.words_calls import CALLS
from recipes.words_files import FILES, SECTIONS
from recipes.words_labels import LABELLED, allergen_label, allergen_words, label
from recipes.words_refusals import REFUSALS
from recipes.words_sheets import SHEETS
from recipes.words_steps import DOES, WHY
from recipes.words_tonight import TONIGHT

__all__ = [
    "LABELLED",
    "WORDS",
    "Names",
    "allergen_label",
    "allergen_words",
    "amount_words",
    "aspect_words",
    "drink_card",
    "either",
    "label",
    "name_of",
    "number_words",
    "part_words",
    "share_words",
    "step_words",
    "volume_words",
    "word",
]

WORDS: dict[str, str | Promise] = {
    **REFUSALS,
    **FILES,
    **SHEETS,
    **DOES,
    **WHY,
    **TONIGHT,
    **CALLS,
}
"""Every code that this catalogue words, with named placeholders."""

_NOBODY: Names = {}


def word(
    reason: Reason,
    *,
    names: Names = _NOBODY,
    glass_names: Names = _NOBODY,
    country: str = "us",
) -> str:
    """The sentence for a reason value.

    Ingredients and glasses stand in reasons by slug: give their names, or the slug is read out
    in plain letters. A reason that knows its line begins with it. Raises KeyError for a code
    without words.
    """
    values = _readable(reason.values, names, glass_names, country)
    said = _capital(str(WORDS[_variant(reason)]) % values)
    return (
        _("Line %(line)s: %(said)s") % {"line": values["line"], "said": said}
        if "line" in values
        else said
    )


def step_words(
    step: BuildStep, *, glass_names: Names = _NOBODY, country: str = "us"
) -> tuple[str, str]:
    """What to do and why."""
    return (
        word(step.does, glass_names=glass_names, country=country),
        word(step.why, glass_names=glass_names, country=country),
    )


def _variant(reason: Reason) -> str:
    """Two steps read differently by what they hold: who measures, and a share of the tap."""
    values = reason.values
    if reason.code == "do_pour" and values.get("by"):
        return "do_pour_by"
    if reason.code == "do_draw" and values.get("share") != 100:
        return "do_draw_part"
    return reason.code


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


_VOLUMES = {"ml": "size", "liquid_ml": "liquid", "room_ml": "room", "left_ml": "left"}


def _readable(
    values: Mapping[str, Value], names: Names, glass_names: Names, country: str
) -> dict[str, str]:
    """The values as a sentence takes them; slugs, units, shares and volumes are read out."""
    readers: dict[str, Callable[[str], str]] = {
        "ingredient": lambda slug: name_of(slug, names),
        "rim": lambda slug: name_of(slug, names),
        "glass": lambda slug: name_of(slug, glass_names) or _("not named"),
        "by": lambda by: label(MeasuredBy(by)) if by else "",
        "share": lambda percent: share_words(float(percent)),
        "liquor_class": lambda name: label(LiquorClass(name)),
        "field": _field,
        "section": lambda section: str(SECTIONS[section]),
        "already": lambda section: str(SECTIONS[section]),
    }
    said = {key: readers.get(key, str)(str(value)) for key, value in values.items()}
    if "item" in said:
        said["item"] = either(said["item"].split(CHOICE))
    if "unit" in values:
        said["part"] = part_words(float(values["amount"]), str(values["unit"]), said["item"])
    for key in _VOLUMES.keys() & values.keys():
        said[_VOLUMES[key]] = volume_words(float(values[key]), country)
    return said


def _field(path: str) -> str:
    """ "parts.0.amount" as people count: "parts 1, amount"."""
    words: list[str] = []
    for step in path.split("."):
        if step.isdigit() and words:
            words[-1] += f" {int(step) + 1}"
        else:
            words.append(step.replace("_", " "))
    return ", ".join(words)
