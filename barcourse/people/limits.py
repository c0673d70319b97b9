"""The framework's words for numbers beyond their limits, said in ours: in every form, also where a
form follows from a model."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.utils.translation import gettext_lazy as _


def say_plainly() -> None:
    """Once, when the site starts."""
    MinValueValidator.message = _("At least %(limit_value)s, please.")
    MaxValueValidator.message = _("At most %(limit_value)s, please.")
