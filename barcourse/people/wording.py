"""The sentences for people's reasons and the words for what the log records."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from .reasons import Reason

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

# Said beside a form field or on a page of their own. Parameters as in the Reason of that code.
WORDS: dict[str, _StrPromise] = {
    # names and sign-in names
    "name_missing": _("Type a name."),
    "name_too_long": _("At most %(most)s letters, please."),
    "name_control_characters": _("That has an invisible character in it. Type it by hand."),
    "sign_in_has_space": _("Leave the spaces out: an e-mail address or one word."),
    "sign_in_taken": _("Somebody already signs in with that. Choose another one."),
    "password_weak": _("%(why)s"),
    # a pasted list
    "list_empty": _("Type at least one name, one on each line."),
    "list_too_long": _("At most %(most)s lines at a time. This list has %(lines)s."),
    "list_line_bad": _("Line %(line)s, “%(text)s”: %(why)s"),
    "role_unknown": _("after the comma stands a role: %(roles)s."),
    "role_not_yours_to_give": _("Only an owner invites or makes somebody %(role)s."),
    "name_twice": _("stands in this list twice. Add a letter of the surname."),
    "name_here": _("is here already. Add a letter of the surname if it is somebody else."),
    "name_invited": _("is invited already. Add a letter of the surname if it is somebody else."),
    # an invitation's link
    "invitation_unknown": _(
        "This link doesn't lead anywhere. Perhaps a part of it is missing, "
        "or a newer link has taken its place. Ask whoever invited you."
    ),
    "invitation_used": _(
        "This link has been used already. If that was you, sign in. "
        "If not, ask whoever invited you for a fresh one."
    ),
    "invitation_expired": _("This link has run out. Ask whoever invited you for a fresh one."),
    "invitation_withdrawn": _("This invitation was taken back. Ask whoever invited you."),
    "invitation_of_someone_gone": _(
        "This link was used by somebody who has left %(house)s since. "
        "Whoever comes back gets a new one."
    ),
    "invitation_not_open": _("This invitation has been used or taken back already."),
    "already_here": _("You already work at %(house)s with this sign-in."),
    # people of a house
    "other_house": _("That belongs to another house."),
    "last_owner_leaves": _("A house needs an owner. Make somebody else an owner first."),
    "last_owner_demoted": _("This is the only owner. Make somebody else an owner first."),
    "has_left_already": _("They have left already."),
    "has_not_left": _("They haven't left."),
    "left_before_start": _("They started on %(start)s: the last day can't be earlier."),
    "left_day_ahead": _("Choose today or an earlier day."),
    "same_role": _("They are %(role)s already."),
    "erased": _("Their name was erased. Invite them afresh."),
    "left_first": _("Mark them as left first."),
    "text_erased_already": _("These words were erased already."),
    # a new password
    "password_link_dead": _(
        "This link doesn't open any more. Ask a manager or the owner for a fresh one."
    ),
    "password_of_ones_own": _("Somebody else makes yours: ask an owner or a manager."),
    "password_not_yours_to_renew": _("For somebody of this role an owner makes the link."),
    "password_opens_another_house": _(
        "They work in another house too, and a link from here would open that house as well. So "
        "nobody can make one."
    ),
    # a house
    "house_closed_to_new": _("New houses can't be opened here. Ask for an invitation instead."),
    "timezone_unknown": _("We don't know that time zone. One looks like Europe/Lisbon."),
    "nothing_changed": _("Nothing was changed."),
    "no_such_station": _("That station doesn't take orders here."),
    # signing in
    "sign_in_wrong": _("That name and password don't go together. Try once more."),
    "sign_in_too_often": _(
        "That was wrong quite a few times. Take a breath and try again in %(minutes)s minutes."
    ),
    "sign_in_gone": _("You have left %(house)s. Welcome back any time: ask for an invitation."),
    # a shared tablet
    "tablet_withdrawn_already": _("This tablet was taken out of use already."),
    "tablet_not_enrolled": _(
        "This isn't one of the house's shared tablets. Sign in with your name and password, or ask "
        "a manager to make it one."
    ),
    "pin_shape": _("A PIN is %(least)s to %(most)s digits."),
    "pin_obvious": _("Everybody tries that one first. Mix the digits a little."),
    "pin_not_the_same": _("That isn't the same as above."),
    "pin_wrong": _("That isn't it. Try once more."),
    "pin_waits": _(
        "Five wrong ones: this PIN waits for %(minutes)s minutes. A manager can let it go on."
    ),
    "pin_needs_manager": _("Too many wrong ones today. Ask a manager to let you try again."),
    "tablet_waits": _(
        "Five wrong PINs: the tablet waits for %(minutes)s minutes. A manager can let it go on."
    ),
    # refused sales and incidents
    "refusal_to_come": _("That is still to come. Which time was it?"),
    "refusal_time": _("A time within the last 24 hours, please."),
    "refusal_needs_words": _("Say in a few words what it was."),
    "refusal_without_words": _("There are no words about it to erase."),
    # side work
    "side_task_gone": _("That is off the list by now. Open the page anew."),
    "side_work_none": _("Tick what you have done first."),
    "side_work_of_others": _("Whoever signed it takes it back, or a manager."),
    "side_work_taken_back": _("That was taken back already."),
    "taking_back_needs_reason": _("Say in a few words why."),
    # permits
    "permit_of_ones_own": _("Somebody else notes yours: they have to have seen it."),
    "permit_gone": _("This permit was taken out already."),
    # what check_log finds
    "log_gap": _("Entry %(number)s is missing: the next one is %(found)s."),
    "log_link_broken": _("Entry %(number)s does not follow the one before it."),
    "log_entry_changed": _("Entry %(number)s was changed after it was written."),
    "log_head_missing": _("The printed head %(head)s is not in this log."),
    "row_unlogged": _("Row %(row)s of %(table)s has no entry in the log."),
    "row_changed": _("Row %(row)s of %(table)s differs from entry %(number)s."),
    "row_missing": _("Entry %(number)s speaks of row %(row)s of %(table)s, which is gone."),
    "text_unlogged": _("Text %(text)s has no entry in the log."),
    "text_changed": _("Text %(text)s differs from entry %(number)s."),
    "text_missing": _("Entry %(number)s speaks of text %(text)s, which is gone."),
    "text_erased_unlogged": _("Text %(text)s and the log disagree on whether it was erased."),
    "membership_differs": _("Role or last day of %(person)s differs from the log."),
    "membership_missing": _("The log speaks of %(person)s, who is gone."),
    "permit_differs": _("A permit of %(person)s differs from the log."),
    "permit_missing": _("The log speaks of a permit of %(person)s, which is gone."),
    "house_differs": _("The house's %(setting)s differs from what the log last said."),
    "guard_missing": _("The database's guard %(guard)s is not in force."),
}

# What an entry of the log is about; other rooms add theirs with `name_kinds`.
KINDS: dict[str, _StrPromise] = {
    "house_opened": _("opened the house"),
    "house_changed": _("changed the house"),
    "tills_set": _("said which stations ring up"),
    "invited": _("invited somebody"),
    "fresh_link": _("made a fresh link for an invitation"),
    "invitation_withdrawn": _("took an invitation back"),
    "joined": _("joined"),
    "password_link_made": _("made a link to a new password for"),
    "password_renewed": _("set a new password"),
    "role_changed": _("changed the role of"),
    "left": _("marked as left"),
    "came_back": _("took back"),
    "person_erased": _("erased the name of"),
    "text_erased": _("erased words about"),
    "side_work_brought_in": _("brought in lists of side work"),
    "side_task_added": _("put side work on the list"),
    "side_task_removed": _("took side work off the list"),
    "side_work_done": _("did side work"),
    "side_work_voided": _("took back side work of"),
    "permit_added": _("noted a permit of"),
    "permit_removed": _("took out a permit of"),
    "sale_refused": _("refused a sale"),
    "incident_noted": _("noted an incident"),
    "tablet_enrolled": _("made a device a shared tablet"),
    "tablet_withdrawn": _("took a shared tablet out of use"),
    "tablet_released": _("let a shared tablet go on after wrong PINs"),
    "pin_released": _("forgave wrong PINs of"),
    "pin_set": _("set a PIN for the shared tablet"),
}


# What other rooms find in a check of the log; they add theirs with `name_findings`.
FINDINGS: dict[str, _StrPromise] = {}


def say(reason: Reason) -> str:
    """The reason in the reader's language."""
    words = WORDS.get(reason.code) or FINDINGS[reason.code]
    return str(words) % dict(reason.params)


def name_findings(findings: Mapping[str, _StrPromise]) -> None:
    """Give words to what a check from `log_check.also` finds; call it from AppConfig.ready."""
    FINDINGS.update(findings)


def name_kinds(kinds: Mapping[str, _StrPromise]) -> None:
    """Give words to kinds of log entry; call it from AppConfig.ready. A verb phrase, as above."""
    KINDS.update(kinds)


Teller = Callable[[Mapping[str, str], Mapping[str, object]], str]
"""The names of the house's stations by their slugs, and the facts of an entry; what to say of it,
or "" where its facts hold nothing of the kind."""

# What the facts of an entry tell a reader; other rooms add theirs with `tell_facts`.
TELLERS: dict[str, Teller] = {}


def tell_facts(tellers: Mapping[str, Teller]) -> None:
    """Say what the facts of a kind of log entry tell; call it from AppConfig.ready."""
    TELLERS.update(tellers)
