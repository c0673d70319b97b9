"""What an aspect of one drink is called: a draught beer has no mixer, it has its beer."""

from __future__ import annotations

from django.utils.translation import gettext as _

from recipes.grammar.aspects import Aspect
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Kind, LiquorClass, Pantry
from recipes.words_labels import label


def aspect_label(aspect: Aspect, spec: HouseSpec, pantry: Pantry) -> str:
    """The aspect's own label; where nothing is measured, what fills the glass says what it is."""
    filled = {pantry[p.ingredient].kind for p in spec.mixers}
    if aspect is not Aspect.MIXERS or spec.poured_ml or not filled:
        return label(aspect)
    classes = {pantry[p.ingredient].liquor_class for p in spec.mixers}
    if filled == {Kind.BEER}:
        return _("Beer")
    if filled == {Kind.CIDER}:
        return _("Cider")
    if classes == {LiquorClass.BEER}:
        return _("Beer and cider")
    if classes == {LiquorClass.BEER, LiquorClass.MIXER}:
        return _("Beer and mixer")
    return _("Wine") if classes == {LiquorClass.WINE} else label(aspect)
