"""Sentences for what the verbs of `record` refuse and what a check of the log finds here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext_lazy

from barcourse.people import wording as people_wording
from barcourse.people.reasons import Reason

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

WORDS: dict[str, str | Promise] = {
    "quiz_has_nothing_to_ask": _("%(module)s has nothing to ask about yet."),
    "not_your_quiz": _("That quiz is somebody else's."),
    "try_out_taken_back": _("That try-out was taken back."),
    "try_out_not_begun": _("Nobody has begun that try-out: whoever offered it can take it back."),
    "not_your_calls": _("Those calls are somebody else's."),
    "nothing_to_call": _("This house pours nothing yet, so there is nothing to call."),
    "half_a_build": _("Choose something for every part of it, or say that you'd ask."),
    "hook_too_long": _("A hook is a line: %(most)s letters at most."),
    "only_trainers_share": _("Who trains shares hooks with the house. Yours is for you."),
    "not_your_shift": _("Who fills the rota says when others work."),
    "shift_set_by_another": _(
        "%(name)s has set the shift of that day. Only they or who fills the rota can change it."
    ),
    "shift_not_ahead": _("That is not ahead of us: pick a moment in the next %(days)s days."),
    "minutes_out_of_reason": _("Between 1 and %(most)s minutes a day, please."),
    "no_sales_in_it": _("No row of it is a sale."),
    "sales_are_formulas": _(
        "No row of it can be read: what was sold stands there as formulas whose results the file "
        "doesn't have (rows: %(rows)s). Open it in a spreadsheet, save it there, and send it once "
        "more."
    ),
    "sales_ahead": _("All of its rows are dated after today. Is the clock of the till right?"),
    "sales_came_meanwhile": _("Another export came in meanwhile. Look once more, please."),
    "sales_in_already": _("%(name)s took these very sales in on %(day)s already. They count once."),
    "sales_both_ways": _(
        "These are other sales, or they take the place of what came before: it can't be both. "
        "Tick one of the two."
    ),
    "sales_beyond": _(
        "No bar sells so much of one thing. Look at its rows, and tick that it is so."
    ),
    "sales_nonsense": _(
        "No house sells so much in all its years. Codes or prices stand where the quantities "
        "should be: read another column."
    ),
    "sales_twice": _(
        "Say whether these sales were counted already: one of the exports tells no days."
    ),
    "till_name_of_several": _(
        "A name tells of several drinks: say how many one sale of it is. Nothing is told yet."
    ),
    "sales_tell_less": _(
        "An export taken in before tells more of these days. Say below whether this one takes its "
        "place all the same."
    ),
    "sales_below_zero": _(
        "More was taken off than sold. Look at it below, and say so if it is so."
    ),
    "sales_out_already": _("This export was taken back already."),
    "second_above_ready": _("Second can't ask for more than ready does."),
    "policy_day_is_past": _("Choose today or a day to come."),
    "policy_day_too_far": _("Choose a day in the next year."),
    "policy_set_meanwhile": _("Somebody else has set what ready takes meanwhile. Look once more."),
    "policy_follows_nothing": _("There is nothing wider than the whole house to follow."),
    "override_needs_reason": _("Say why in a few words."),
    "override_shift_is_over": _("That shift is over."),
    "override_too_far": _("That is too far ahead: a shift in the next %(days)s days, please."),
    "override_there_already": _("Somebody has said so for that shift already."),
    "override_ended_already": _("That was taken back already."),
    "override_not_needed": _("They are ready for that shift by the board: nothing to let pass."),
    "override_not_safety": _(
        "Nobody stands there without the safety module, not even for one shift. They can take it "
        "today."
    ),
    "override_not_permit": _(
        "A permit that the house asks for isn't in force on that shift. Nobody here can lift that: "
        "the law decides."
    ),
    "no_such_choice": _("Pick one of the answers, or say that you'd ask."),
    "drink_changed": _(
        "The house has just changed %(drink)s. Below is how it is built now: look once more."
    ),
    "nobody_signs_for_themselves": _("Nobody signs for themselves. Ask another trainer."),
    "only_who_watched_signs": _("Only whoever watched the build can sign it off."),
    "not_passed": _("This build was not passed, so there is nothing to sign off."),
    "voided_already": _("This build was voided already."),
    "nobody_voids_their_own": _("Nobody voids their own record. Ask a trainer."),
    "only_who_marked_takes_back": _("Whoever put it on record takes it back, or a manager."),
    "taken_back_already": _("This was taken back already."),
    "only_who_watched_takes_back": _("Only whoever watched the build can take it back."),
    "signed_already": _("This build is signed off. It can be voided, with a reason."),
    "slip_too_late": ngettext_lazy(
        "A wrong tap is undone within %(minutes)s minute, on the same day. This build can be "
        "voided, with a reason.",
        "A wrong tap is undone within %(minutes)s minutes, on the same day. This build can be "
        "voided, with a reason.",
        "minutes",
    ),
    "slip_answered": _(
        "They have answered this build, so it isn't undone. It can be voided, with a reason."
    ),
    "slip_decided_on": _(
        "Somebody has marked this build too or decided on it, so it isn't undone. It can be "
        "voided, with a reason."
    ),
    "not_your_record": _("That is somebody else's record."),
    "answer_needs_words": _("Say it in a few words."),
    "answered_already": _("You have answered this one. Talk to your manager if there is more."),
    "somebody_else_settles": _("Somebody who isn't part of it decides that."),
    "settled_already": _("This one is settled already."),
    "decided_meanwhile": _("%(name)s has decided meanwhile: look at it, then decide otherwise."),
    "second_is_another": _("The second look is another trainer's."),
    "second_too_late": _("That build is too long ago to be marked a second time."),
    "second_has_seen": _("You have seen the first marks, so the second look is somebody else's."),
    "second_there_already": _("Somebody has marked this build a second time already."),
    "begun_by_somebody_here": _("Whoever began this watches here and goes on with it."),
    "trainer_is_here": _("Whoever watched this build is here and can sign it off."),
    "nobody_to_watch": _("Pick somebody who is here and watches builds."),
    "signed_since": _("The drink was signed off meanwhile."),
    "handed_over_already": _("This build was handed over already."),
    "no_house_pour": _("The house rules say no pour for %(item)s, so there is nothing to aim at."),
    "no_words_there": _("There are no words there to erase."),
    "only_who_wrote_erases": _("Whoever wrote the words may erase them, or a manager."),
    "pours_impossible": _("Type in each pour as you read it off, 0 or more."),
    "pours_too_large": _("A pour is too large to be one: look at its digits and its point."),
    "ticket_changed": _(
        "What the house sells has just changed, and the ticket with it. Below is the new one."
    ),
    "pace_impossible": _("A pace takes a time above 0 and errors counted from 0."),
    "round_changed": _(
        "The house has just changed one of these drinks. Below is the round as it is now."
    ),
    "void_needs_reason": _("Say why in a few words."),
    "sheet_needs_a_module": _("Pick at least one module to ask about."),
    "sheet_name_taken": _("Another quiz in use is called %(name)s already."),
    "sheet_too_short": _("That is fewer questions than the situations and cards among them."),
    "drill_needs_two_drinks": _("A drill tells two drinks apart: pick two."),
    "nothing_ticked": _("Tick everything that is right, or say that you'd ask."),
    "places_missing": _("Give every step a place, each place once, or say that you'd ask."),
    "time_is_up": _("The time for this quiz was up. What you had answered counts."),
    "rush_is_over": _("The time for these calls was up. What you had answered counts."),
    "rush_has_time_left": _("These calls still have time left."),
    "time_left": _("This quiz still has time left."),
    "sheet_out_of_use": _("That quiz is out of use."),
    "retake_later": ngettext_lazy(
        "The house leaves some time between two tries: come back in an hour.",
        "The house leaves some time between two tries: come back in %(count)s hours.",
        "count",
    ),
    "drill_waits_already": _("They have that drill already; it waits until both are right."),
    "drill_needs_people": _("Pick at least one person for the drill."),
    "only_who_watched_says": _("Only whoever watched the build can say what was made."),
    "it_was_the_right_drink": _("That was the drink that was called."),
}

FINDINGS: dict[str, _StrPromise] = {
    "quiz_changed": _("Quiz %(quiz)s differs from its result: somebody changed it afterwards."),
    "quiz_answers_missing": _("Quiz %(quiz)s has a result, but answers of it are gone."),
    "quiz_without_result": _("Quiz %(quiz)s is finished, but its result is gone."),
    "calls_changed": _(
        "Call practice %(run)s differs from its result: somebody changed it afterwards."
    ),
    "call_answers_missing": _("Call practice %(run)s has a result, but answers of it are gone."),
    "calls_without_result": _("Call practice %(run)s is finished, but its result is gone."),
}


def say(reason: Reason) -> str:
    """The sentence for a refusal of ours, or of the people room where the code is theirs."""
    if reason.code in WORDS:
        return str(WORDS[reason.code] % dict(reason.params))
    return str(people_wording.say(reason))
