"""Words for pours, pace, rounds: what `measures` says of them in values."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext_lazy as plural

from assessments.measures.density import By
from assessments.measures.pace_check import Error
from assessments.measures.readiness import Standing
from assessments.measures.rounds import Act
from assessments.measures.sales_mix import ShiftKind

Text = str | Promise

POURS: dict[str, Text] = {
    "pours_too_few": _("Too few pours to say: %(n)s so far, the house wants %(least)s."),
    "pours_hold": _(
        "Passed: all %(n)s within tolerance, and so steady that by their average and spread at "
        "least 19 of 20 to come will be too (95 %% sure)."
    ),
    "pours_pass": _("Passed: all %(n)s within tolerance. More pours would say how steady that is."),
    "pours_pass_alike": _(
        "Passed: all %(n)s within tolerance. They all read alike: how steady that is, they can't "
        "say."
    ),
    "pours_pass_most": _("Passed: %(n)s of %(of)s within tolerance."),
    "pours_pass_unsure": _(
        "Passed: %(n)s of %(of)s within tolerance, which is the house's rule. Not steady yet: with "
        "this average and spread about %(miss)s of 100 to come would be out of tolerance."
    ),
    "pours_off": plural(
        "Not passed: one of %(of)s is out of tolerance.",
        "Not passed: %(count)s of %(of)s are out of tolerance.",
        "count",
    ),
    "pours_short": plural(
        "Not passed: one is short, and a stamped measure is never under.",
        "Not passed: %(count)s are short, and a stamped measure is never under.",
        "count",
    ),
    "pours_lean": _("Not passed: on average they are further off than the house allows."),
    "pours_run_over": _("They run over, and not by chance: pour a little shorter."),
    "pours_run_under": _("They run short, and not by chance: pour a little longer."),
    "pours_uneven": _(
        "They differ more from one another than the house gives room for: pour more evenly."
    ),
    "pours_no_bias": _("On average they are on target, as far as so many pours can tell."),
    "drift_too_few": _("Too few checks to see a drift: %(n)s of %(least)s."),
    "drift_too_short": _(
        "Too short to say whether they drift: that takes checks on %(days)s different days, the "
        "last at least %(least)s days after the first."
    ),
    "drift_none": _("No drift to be seen in %(n)s checks."),
    "drift_up": _("Over %(n)s checks the pours creep up."),
    "drift_down": _("Over %(n)s checks the pours creep down."),
}

PACE: dict[str, Text] = {
    "pace_too_short": _(
        "Too few drinks to say how quick that is: %(n)s. From %(least)s on it says something."
    ),
    "pace_slow": _("Slower than a busy bar's %(usual)s drinks an hour, beyond chance."),
    "pace_usual": _("As quick as a busy bar: %(low)s to %(high)s drinks an hour."),
    "pace_quick": _("Quicker than a busy bar's %(usual)s drinks an hour, beyond chance."),
    "pace_unsure": _(
        "A busy bar makes %(low)s to %(high)s drinks an hour. Whether this is slower or quicker is "
        "too uncertain to say: a longer ticket would tell."
    ),
    "pace_clean": _("Nothing went wrong."),
    "pace_errors": plural(
        "One thing went wrong, drinks made: %(of)s.",
        "%(count)s things went wrong, drinks made: %(of)s.",
        "count",
    ),
    "pace_must_not": plural(
        "One of them would fail a build: right comes before quick.",
        "%(count)s of them would fail a build: right comes before quick.",
        "count",
    ),
}

ROUNDS: dict[str, Text] = {
    "round_as_best": _("Done in the best order."),
    "round_moved": plural(
        "One of %(of)s steps out of turn.", "%(count)s of %(of)s steps out of turn.", "count"
    ),
    "round_settle_late": _("The stout that has to settle starts first: it settles by itself."),
    "round_died": plural(
        "The draught beer lost its head while one more thing was done: it comes last.",
        "The draught beer lost its head while %(count)s more things were done: it comes last.",
        "count",
    ),
    "round_picked_up_again": plural(
        "One bottle was picked up twice: pour it across the glasses at once.",
        "%(count)s bottles were picked up twice: pour each across the glasses at once.",
        "count",
    ),
}

HOUR: dict[str, Text] = {
    "hour_empty": _("No orders come in: nobody is needed."),
    "hour_held": plural(
        "One person holds it: guests wait %(wait)s s on average.",
        "%(count)s people hold it: guests wait %(wait)s s on average.",
        "count",
    ),
    "hour_slow": plural(
        "One person gets through it, but only %(in_time)s of 100 guests wait no longer than "
        "%(wait)s s.",
        "%(count)s people get through it, but only %(in_time)s of 100 guests wait no longer than "
        "%(wait)s s.",
        "count",
    ),
    "hour_brim": plural(
        "One person has nothing to spare: just as many orders come in as they make, and the queue "
        "grows.",
        "%(count)s people have nothing to spare: just as many orders come in as they make, and the "
        "queue grows.",
        "count",
    ),
    "hour_nobody": plural(
        "Nobody holds it: one order comes in an hour, and nobody makes it.",
        "Nobody holds it: %(count)s orders come in an hour, and nobody makes them.",
        "count",
    ),
    "hour_overrun": plural(
        "One person can't make it: of %(orders)s that come in each hour they make %(made)s, and "
        "the queue grows as long as they come.",
        "%(count)s people can't make it: of %(orders)s that come in each hour they make %(made)s, "
        "and the queue grows as long as they come.",
        "count",
    ),
}

WORDS: dict[str, Text] = {**POURS, **PACE, **ROUNDS, **HOUR}

SHIFTS: dict[ShiftKind, Text] = {
    ShiftKind.WEEK_EARLY: _("Sunday to Thursday, before ten"),
    ShiftKind.WEEK_LATE: _("Sunday to Thursday, from ten on"),
    ShiftKind.WEEKEND_EARLY: _("Friday and Saturday, before ten"),
    ShiftKind.WEEKEND_LATE: _("Friday and Saturday, from ten on"),
}

STANDINGS: dict[Standing, Text] = {
    Standing.READY: _("ready"),
    Standing.SECOND: _("second"),
    Standing.NOT_YET: _("not yet"),
}

ERRORS: dict[Error, Text] = {
    Error.WRONG_DRINK: _("Wrong drink, base or size"),
    Error.POUR: _("A pour off"),
    Error.FINISH: _("Garnish, straw or ice"),
    Error.LEFT_OUT: _("A drink left out"),
    Error.RUNG_UP: _("Rung up wrong"),
    Error.AGE: _("Age not checked"),
    Error.ICE: _("Hand or glass in the ice"),
}

ACTS: dict[Act, Text] = {
    Act.SETTLE: _("Start the %(item)s: it has to settle"),
    Act.GLASS: _("Line up the glasses"),
    Act.RIM: _("Rim with %(item)s"),
    Act.UNDER: _("Under the ice: %(item)s"),
    Act.ICE: _("Ice, all glasses at once"),
    Act.BOTTLE: _("Pick up %(item)s once and pour across"),
    Act.MIXER: _("Top with %(item)s"),
    Act.FLOAT: _("Float %(item)s"),
    Act.STRAW: _("A straw into each"),
    Act.GARNISH: _("Garnish: %(item)s"),
    Act.ASK: _("Ask the guest: %(item)s?"),
    Act.OPEN: _("Open %(item)s"),
    Act.DRAUGHT: _("Draw %(item)s"),
    Act.TOP_UP: _("Top up the %(item)s"),
    Act.SERVE: _("Serve and say the names"),
}
"""Shaking, stirring and blending have the words of their method."""

DENSITY: dict[By, Text] = {
    By.STATED: _("as the house book says"),
    By.STRENGTH: _("from its strength"),
    By.WATER: _("taken as water: a syrup or liqueur is heavier, so a cylinder is better"),
}

WORK: dict[str, Text] = {
    "rim": _("a rim"),
    "first_in": _("something under the ice"),
    "muddle": _("muddling"),
    "float": _("a float"),
    "dash": _("a dash"),
    "two_mixers": _("two mixers"),
    "no_alcohol": _("no alcohol"),
}
"""Kinds of work beside families and methods, which have their own words."""

OF_HANDS: dict[str, Text] = {
    "spot": _("a drink in service"),
    "pours": _("a pour check"),
    "pace": _("a pace check"),
    "round": _("a whole round"),
}
"""What can be taken back, by its kind."""
