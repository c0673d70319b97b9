"""Words for how the house's own record bears out what was said beforehand."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

Text = str | Promise

WORDS: dict[str, Text] = {
    "record_too_small": _(
        "Too few to say: %(builds)s builds can be held against what was said of them beforehand, "
        "and it takes %(least)s."
    ),
    "record_bears_out": _(
        "The record bears the figures out: of %(builds)s builds %(stated)s in 100 were expected "
        "right, and %(came)s in 100 came right. The difference is what chance makes."
    ),
    "record_too_hopeful": _(
        "The figures promise too much here: of %(builds)s builds %(stated)s in 100 were expected "
        "right, and only %(came)s in 100 came right. That is more than chance."
    ),
    "record_too_careful": _(
        "The figures promise too little here: of %(builds)s builds %(stated)s in 100 were expected "
        "right, and %(came)s in 100 came right. That is more than chance."
    ),
    "record_uneven": _(
        "Over all %(builds)s builds the figures hold, but not person by person: with some they "
        "promise too much, with others too little, by more than chance."
    ),
}
