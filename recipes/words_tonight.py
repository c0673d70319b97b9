"""Why a drink is off tonight, and why somebody can't say that a bottle is out like this."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as lazy

TONIGHT: dict[str, str | Promise] = {
    "bottle_out": lazy("%(ingredient)s is out and nothing stands in for it."),
    "drink_out": lazy("It is off by itself, whatever is in the bottles."),
    "in_it_already": lazy(
        "%(ingredient)s would stand in, but it is in this drink already in another measure."
    ),
    "substitute_is_itself": lazy("%(ingredient)s can't stand in for itself. Choose another."),
    "substitute_is_out": lazy("%(ingredient)s is out too. Choose another, or none."),
}
