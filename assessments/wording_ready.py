"""Words for who is ready: what is missing, how to mend it, what to do next, what ready takes."""

from django.utils.functional import Promise
from django.utils.translation import gettext as now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext
from django.utils.translation import ngettext_lazy as plural

from assessments.measures.ready_facts import Proof, ReadyPolicy
from barcourse.people.models.permit import PermitKind

Text = str | Promise

_MISSING: dict[str, Text] = {
    "safety_not_passed": _("%(module)s isn't passed yet. Nobody is ready without it."),
    "no_must_knows": _("The house has marked no must-knows, so nobody can prove them."),
    "no_drinks": _("Nothing is on the menu yet."),
    "not_signed_off": _("%(drink)s isn't signed off."),
    "sign_off_waits": _(
        "%(drink)s was passed on %(day)s and waits for %(trainer)s to sign it off."
    ),
    "sign_off_waits_for_you": _("%(drink)s was passed on %(day)s and waits for your sign-off."),
    "sign_off_out_of_date": _("%(drink)s has changed since it was signed off: %(aspects)s."),
    "right_too_low": _(
        "So far we can count on only %(low)s of 100 orders right. The house wants %(least)s."
    ),
    "right_below_second": _(
        "So far we can count on only %(low)s of 100 orders right. The house wants %(least)s, and "
        "%(second)s to work beside somebody who is ready."
    ),
    "wrong_too_high": _(
        "About %(wrong)s of 100 orders would go out wrong. The house takes at most %(most)s."
    ),
    "pour_missed": plural(
        "How much a pour is was missed, and hasn't been shown for sure since: %(says)s. One drink "
        "goes by it.",
        "How much a pour is was missed, and hasn't been shown for sure since: %(says)s. "
        "%(count)s drinks go by it.",
        "count",
    ),
    "permit_missing": _("The house asks for a permit that isn't on record: %(permit)s."),
    "permit_ran_out": _("A permit is good only until %(day)s: %(permit)s."),
    "families_not_proven": plural(
        "Not every rule and kind of work is proven yet. One sign-off would prove the rest: "
        "%(drinks)s.",
        "Not every rule and kind of work is proven yet. %(count)s sign-offs would prove the rest: "
        "%(drinks)s.",
        "count",
    ),
    "pours_not_checked": _("No pour check %(within)s."),
    "pours_not_passed": _("The newest pour check wasn't passed."),
    "pace_not_checked": _("No pace check at this station %(within)s."),
    "pace_too_low": plural(
        "The newest pace check came to one drink an hour. The house wants %(least)s.",
        "The newest pace check came to %(pace)s drinks an hour. The house wants %(least)s.",
        "pace",
    ),
    "no_tasks": _("There is no side work on this station's list, so nobody can show it."),
    "tasks_not_done": plural(
        "One task of the list isn't signed for %(within)s: %(tasks)s.",
        "%(count)s tasks of the list aren't signed for %(within)s, among them: %(tasks)s.",
        "count",
    ),
    "conduct_slipped": plural(
        "Once a rule of conduct was broken in a build that was watched %(within)s.",
        "Rules of conduct were broken %(count)s times in builds that were watched %(within)s.",
        "count",
    ),
    "nothing_seen": _("Too little has been seen yet for any figures."),
    "mostly_a_guess": plural(
        "Only one drink of %(of)s has been seen yet: mostly a guess.",
        "Only %(count)s drinks of %(of)s have been seen yet: mostly a guess.",
        "count",
    ),
}

_NEXT: dict[str, Text] = {
    "next_take_safety": _("Take %(module)s first."),
    "next_retake_safety": _("Read %(module)s once more, then take its quiz."),
    "next_mark_must_knows": _("Mark the drinks that everybody must know."),
    "next_renew_sign_off": _("Build %(drink)s once for the trainer: %(aspects)s changed."),
    "next_ask_sign_off": _("Ask %(trainer)s to sign off %(drink)s, passed on %(day)s."),
    "next_give_sign_off": _("Sign off %(drink)s, passed on %(day)s."),
    "next_sign_off": _("Build %(drink)s for the trainer, unprompted."),
    "next_sign_offs_left": plural(
        "After that, one more must-know to sign off.",
        "After that, %(count)s more must-knows to sign off.",
        "count",
    ),
    "next_quiz": _("Take the quiz on %(module)s."),
    "next_rule": plural(
        "Go over a house rule: %(says)s, as with %(drink)s. One drink goes by it: a minute for "
        "some %(orders)s of 100 orders.",
        "Go over a house rule: %(says)s, as with %(drink)s. %(count)s drinks go by it: a minute "
        "for some %(orders)s of 100 orders.",
        "count",
    ),
    "next_drinks": _(
        "These win most over the bar, once they come right: %(drinks)s. About %(minutes)s minutes "
        "for some %(orders)s of 100 orders."
    ),
    "next_more": plural(
        "And one more like these: about %(minutes)s minutes in all to come to the house's bar.",
        "And %(count)s more like these: about %(minutes)s minutes in all to come to the house's "
        "bar.",
        "count",
    ),
    "next_not_enough": _(
        "Going over every drink once, about %(minutes)s minutes, wouldn't come to the house's bar "
        "yet: it takes coming right more than once, in quizzes and watched builds."
    ),
    "next_again": _(
        "All that is poured here was shown just now. The figures rise as it comes right once more, "
        "in quizzes and watched builds."
    ),
}

_MEND: dict[str, Text] = {
    "mend_safety": _("Read %(module)s, then pass its quiz."),
    "mend_permit": _(
        "Get it from whoever issues it by law and show it to a manager, who notes it under "
        "Permits: %(permit)s."
    ),
    "mend_permit_again": _(
        "Have it renewed and show the new one to a manager, who notes it under Permits: %(permit)s."
    ),
    "mend_must_knows": _("Mark the drinks that everybody must know, in the house book."),
    "mend_menu": _("Put drinks on the menu, in the house book."),
    "mend_sign_off": _("Build %(drink)s for a trainer, unprompted."),
    "mend_sign_off_waits": _("Ask %(trainer)s to sign off %(drink)s."),
    "mend_give_sign_off": _("Sign off %(drink)s: it stands under Watched builds."),
    "mend_renew": _("Build %(drink)s once for a trainer, minding what changed: %(aspects)s."),
    "mend_families": _("Have these signed off, built for a trainer unprompted: %(drinks)s."),
    "mend_pours": _("Pour five times for a trainer: a pour check takes five minutes."),
    "mend_pours_again": _("Practise with the house's spout, then pour once more for a trainer."),
    "mend_pace": _("Make a ticket of orders against the clock with a trainer."),
    "mend_pace_low": plural(
        "Line up glasses and pour each bottle once across a round, then take the ticket once more: "
        "one drink an hour.",
        "Line up glasses and pour each bottle once across a round, then take the ticket once more: "
        "%(least)s drinks an hour.",
        "least",
    ),
    "mend_right": _(
        "Quizzes, watched builds and drinks marked in service lift it; so does more evidence, "
        "since the low end counts."
    ),
    "mend_wrong": _(
        "Whoever isn't sure should ask: an order that is asked about doesn't go out wrong."
    ),
    "mend_wrong_own": _(
        "Where you aren't sure, ask: an order that is asked about doesn't go out wrong."
    ),
    "mend_pour_missed": _(
        "Learn the measure from a card of such a drink, answer how much it is when a quiz asks, or "
        "pour it for a trainer."
    ),
    "mend_task_list": _("Put side work on the station's list, or bring in the one that is there."),
    "mend_tasks": plural(
        "Do this one and sign for it under Side work.",
        "Do these %(count)s and sign for each under Side work.",
        "count",
    ),
    "mend_tasks_first": _("Do these first, sign for each under Side work, then go on."),
    "mend_conduct": _("Talk it over with a trainer. It counts until it is longer ago than that."),
}

_DOUBTS: dict[str, Text] = {
    "bar_never_right": _(
        "Nobody can ever be ready so: the low end of what we know never comes to 100 of 100."
    ),
    "bar_never_wrong": _(
        "Nobody can ever be ready so: that an order goes out wrong can be made rare, but never "
        "ruled out."
    ),
    "bar_idle": _(
        "With %(least)s of 100 right no more than %(rest)s can be wrong, so that %(most)s may be "
        "wrong decides nothing."
    ),
    "bar_second_is_everybody": _(
        "Everybody who has passed what the law asks for is second so, whatever they know."
    ),
}

_HOUR: dict[str, Text] = {
    "hour_ready_already": _("Ready already."),
    "hour_nothing_to_do": _("No time with a trainer mends what is missing."),
    "hour_first_mended_elsewhere": _("No time with a trainer mends what is missing first."),
    "hour_builds_not_enough": _("Watching builds isn't enough yet."),
    "hour_too_long": plural(
        "It takes about one minute to get there, more than there is.",
        "It takes about %(minutes)s minutes to get there, more than there are.",
        "minutes",
    ),
    "hour_to_others": _("The time goes to others, who seem nearer or as near."),
}

WORDS: dict[str, Text] = {**_MISSING, **_NEXT, **_MEND, **_DOUBTS, **_HOUR}


def in_the_last(days: int) -> str:
    """To stand in a sentence."""
    return ngettext("in the last day", "in the last %(days)s days", days) % {"days": days}


def policy_words(policy: ReadyPolicy) -> list[str]:
    """What ready takes, and second, a sentence each; what isn't asked for isn't named."""
    return [
        now("Of 100 orders %(least)s right at the low end of what we know, at most %(most)s wrong.")
        % {"least": round(100 * policy.least_right), "most": round(100 * policy.most_wrong)},
        now("The safety module passed."),
        str(_PROOF[policy.proof]),
        *_gates(policy),
        now("Second: %(second)s right at the low end, and what the law asks for above.")
        % {"second": round(100 * policy.second_right)},
    ]


_PROOF: dict[Proof, Text] = {
    Proof.MUST_KNOWS: _("Every must-know signed off on today's build."),
    Proof.FAMILIES: _(
        "Builds signed off that together show every rule and kind of work of the must-knows."
    ),
}


def _gates(policy: ReadyPolicy) -> list[str]:
    found = []
    if policy.permits:
        kinds = ", ".join(str(PermitKind(kind).label) for kind in policy.permits)
        found.append(now("In force: %(permits)s.") % {"permits": kinds})
    if policy.pour_days:
        said = now("The newest pour check passed, %(within)s.")
        found.append(said % {"within": in_the_last(policy.pour_days)})
    if policy.least_pace and policy.pace_days:
        said = ngettext(
            "One drink an hour in a pace check %(within)s.",
            "%(least)s drinks an hour in a pace check %(within)s.",
            policy.least_pace,
        )
        within = in_the_last(policy.pace_days)
        found.append(said % {"least": policy.least_pace, "within": within})
    return found


def task_policy_words(policy: ReadyPolicy) -> list[str]:
    """What ready takes where no orders are taken."""
    return [
        now("The safety module passed."),
        *_gates(ReadyPolicy(0, 0, 0, permits=policy.permits)),
        now("Every task of the list done and signed for %(within)s.")
        % {"within": in_the_last(policy.task_days)},
        now("No rule of conduct broken in a build that was watched in these days."),
        now("Second: all of it save the tasks."),
    ]
