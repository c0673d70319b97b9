"""Small words for templates of this room."""

from collections.abc import Iterable

from django import template
from django.utils.translation import gettext as _

from recipes.grammar.aspects import Aspect
from recipes.wording import label

register = template.Library()


@register.filter
def aspect_names(aspects: Iterable[Aspect]) -> str:
    """ "mixers, finish": names of aspects in the middle of a sentence."""
    return _(", ").join(label(a).lower() for a in aspects)
