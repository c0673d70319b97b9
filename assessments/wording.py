"""Words for what the measures say in values: questions, verdicts, what is missing, what next.

Everything is worded in the language that is active when `word` is called.
"""

import datetime as dt

from django.utils.formats import date_format
from django.utils.functional import Promise
from django.utils.translation import gettext as now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext_lazy as plural

from assessments import wording_practical, wording_proof, wording_ready
from barcourse.people.models.permit import PermitKind
from recipes.grammar.aspects import Aspect
from recipes.grammar.reasons import Reason, Value

Text = str | Promise

_CONDUCT: dict[str, Text] = {
    "conduct_right_drink": _("Make what was called: the drink, its base, its size"),
    "why_conduct_right_drink": _("A good drink that nobody ordered is a wrong drink."),
    "conduct_alcohol_free": _("Keep every drop of alcohol out, also from tools and garnish"),
    "why_conduct_alcohol_free": _(
        "Whoever asks for no alcohol may have a reason that you can't see. It is never a detail."
    ),
    "conduct_ice": _("Take ice with the scoop: no hand, no glass in the bin"),
    "why_conduct_ice": _(
        "Ice is food. Glass that breaks in the bin means: empty it all, melt, wash, refill."
    ),
    "conduct_allergy": _("Allergy named? Read the label or fetch the manager"),
    "why_conduct_allergy": _(
        "Memory is no label. Unknown means ask, and never promise that a drink is free from it."
    ),
    "conduct_age": _("Check the age wherever the law or the house asks for it"),
    "why_conduct_age": _("No proof of age, no sale. Local law and licensed training decide."),
    "conduct_sober": _("Nobody who is drunk is served"),
    "why_conduct_sober": _(
        "Illness or disability can look like it: if you doubt, fetch the manager. "
        "Local law and licensed training decide."
    ),
}

_MARKING: dict[str, Text] = {
    "build_clean": _("Passed, with nothing to mend."),
    "build_passed_with_faults": plural(
        "Passed, with one thing to mend.", "Passed, with %(count)s things to mend.", "count"
    ),
    "build_failed": plural(
        "Not passed: one thing went wrong that fails a build.",
        "Not passed: %(count)s things went wrong that fail a build.",
        "count",
    ),
    "shown_is_teaching": _("You showed this one. That is teaching, so it proves nothing yet."),
    "prompted_is_asking": _("With a prompt it counts as asking: safe, but not yet alone."),
    "pour_under": _("%(ml)s ml poured, %(target_ml)s ml wanted: short."),
    "pour_over": _("%(ml)s ml poured, %(target_ml)s ml wanted: over."),
}

_QUESTIONS: dict[str, Text] = {
    "ask_glass": _("%(drink)s: which glass?"),
    "ask_pours": _("%(drink)s: what do you measure into it?"),
    "ask_mixers": _("%(drink)s: what goes on top?"),
    "ask_finish": _("%(drink)s: how do you finish it?"),
    "ask_method": _("%(drink)s: how do you build it?"),
    "ask_whole": _("Which of these builds is %(drink)s?"),
    "ask_name_it": _("A guest sees you build this. Which drink is it?"),
    "ask_several": _("%(drink)s: what goes in? Tick everything that does."),
    "ask_order": _("%(drink)s: in which order?"),
    "ask_amount": _("%(drink)s: how much %(ingredient)s?"),
    "ask_build": _("Build %(drink)s: choose each part."),
    "ask_call": _("A guest calls this. Build it: choose each part."),
    "call_plain": _("“%(drink)s, please.” What do you ask before you build it?"),
    "call_double": _("“A double %(drink)s, please.” What do you ask before you build it?"),
    "call_double_short": _(
        "“A double %(drink)s, short, please.” What do you ask before you build it?"
    ),
    "call_double_tall": _(
        "“A double %(drink)s, tall, please.” What do you ask before you build it?"
    ),
    "call_by_word": _("“%(said)s, please.” What do you ask before you build it?"),
    "ask_card": _(
        "A guest orders a drink with alcohol and gives you this card. Here that takes an age of "
        "%(age)s. What do you do?"
    ),
    "why_card_serve": _(
        "The lasting features fit, the card is in date, and by the calendar they are old enough "
        "at this moment. Hair changes, so hair alone proves nothing."
    ),
    "why_card_too_young": _(
        "Age counts by the calendar and by the clock on the wall, not by the house's night: at "
        "this moment they aren't old enough."
    ),
    "why_card_expired": _(
        "The card's last day has passed. Whether there is an exception is for the manager to say."
    ),
    "why_card_not_theirs": _(
        "Hair changes; eyebrows, ears and chin don't. You need no proof to refuse, and you "
        "refuse quietly."
    ),
    "ask_scenario": "%(question)s",  # the house's own words
    "why_scenario": "%(why)s",
}

_QUIZ: dict[str, Text] = {
    "quiz_passed": _("Passed: %(right)s of %(of)s right."),
    "quiz_share_too_low": _(
        "Not passed yet: %(right)s of %(of)s right. The house wants %(pass_mark)s in a hundred."
    ),
    "quiz_share_enough": _("%(right)s of %(of)s right, which alone would be enough."),
    "quiz_critical_missed": plural(
        "One question that must be right first was not: a wrong answer there does harm, or a "
        "trainer wants it right. It has to be known before you stand at the bar; there, asking is "
        "safe.",
        "%(count)s questions that must be right first were not: a wrong answer there does harm, or "
        "a trainer wants them right. They have to be known before you stand at the bar; there, "
        "asking is safe.",
        "count",
    ),
    "quiz_asked": plural(
        "You would have asked once. Asking is good bartending; it is no mistake.",
        "You would have asked %(count)s times. Asking is good bartending; it is no mistake.",
        "count",
    ),
    "quiz_unanswered": plural(
        "One question has no answer: the time was up. It says nothing about what you know.",
        "%(count)s questions have no answer: the time was up. They say nothing about what you "
        "know.",
        "count",
    ),
    "quiz_part_credit": _(
        "With what was right in builds and the like, it counts as %(credit)s of %(of)s."
    ),
    "quiz_empty": _("There was nothing to ask."),
}

_ITEMS: dict[str, Text] = {
    "item_backwards": _(
        "People who know the rest get this one wrong more often than others: look for a second "
        "right answer, or a right answer that is none."
    ),
    "item_wrong_draws": _("One wrong answer is picked more often than the right one."),
    "item_too_hard": _("Hardly anybody has it right: teach it, or ask it more plainly."),
    "item_too_easy": _("Everybody has it right: it takes time and tells nobody apart."),
    "item_perhaps_backwards": _(
        "So far people who know the rest get this one wrong more often. Of %(count)s answers that "
        "may be chance: look at it, and wait for more."
    ),
    "item_says_little": _("Whether somebody has it right hardly goes with the rest of the quiz."),
    "trust_none": plural(
        "One person has taken it: far too few to say how far a score can be trusted.",
        "%(count)s people have taken it: too few to say how far a score can be trusted.",
        "count",
    ),
    "trust_unlike": plural(
        "%(people)s people have taken it, but no more than one met questions of the same kinds: "
        "far too few to say how far a score can be trusted.",
        "%(people)s people have taken it, but no more than %(count)s met questions of the same "
        "kinds: too few to say how far a score can be trusted.",
        "count",
    ),
    "trust_unfinished": plural(
        "%(people)s people have taken it, but only one answered all of it before the time was up: "
        "far too few to say how far a score can be trusted.",
        "%(people)s people have taken it, but only %(count)s answered all of it before the time "
        "was up: too few to say how far a score can be trusted.",
        "count",
    ),
    "trust_alike": _(
        "%(people)s people all have the same score: how far a score can be trusted shows only "
        "where scores differ."
    ),
    "trust_unsure": _(
        "With %(people)s people the reliability lies between %(low)s and %(high)s: that may be "
        "good or poor. Don't compare two people by a few questions."
    ),
    "trust_good": _(
        "With %(people)s people the reliability lies between %(low)s and %(high)s: two people "
        "whose scores are well apart do differ in what they know."
    ),
    "trust_poor": _(
        "With %(people)s people the reliability lies between %(low)s and %(high)s: the score says "
        "little about a person. Fix the questions below first, or ask more of them."
    ),
}

_CARDS: dict[str, Text] = {
    "card_fading": _(
        "From memory you would have all of %(drink)s right %(recall)s times in a hundred."
    ),
    "card_changed": _("The house has changed %(drink)s: %(aspects)s."),
    "card_back": _("%(drink)s is as it was before: %(aspects)s."),
    "card_new": _("%(drink)s is new to you."),
    "card_part": _("Part of %(drink)s is new to you."),
}

WORDS: dict[str, Text] = {
    **_CONDUCT,
    **_MARKING,
    **_QUESTIONS,
    **_QUIZ,
    **_ITEMS,
    **_CARDS,
    **wording_ready.WORDS,
    **wording_practical.WORDS,
    **wording_proof.WORDS,
}
"""Every code that this catalogue words, with named placeholders."""

_ASPECTS: dict[Aspect, Text] = {
    Aspect.GLASS: _("the glass"),
    Aspect.POURS: _("the pours"),
    Aspect.MIXERS: _("the mixers"),
    Aspect.FINISH: _("the finish"),
    Aspect.METHOD: _("the method"),
}


def word(reason: Reason) -> str:
    """The sentence for a reason value; raises KeyError for a code without words."""
    values = {key: _readable(key, value) for key, value in reason.params}
    text = str(WORDS[reason.code] % values)
    return text[:1].upper() + text[1:]


def _readable(key: str, value: Value) -> Value:
    match key:
        case "aspects":
            return aspects_words(str(value).split(","))
        case "permit":
            return str(PermitKind(str(value)).label)
        case "within":
            return wording_ready.in_the_last(int(str(value)))
        case "day":
            return date_format(dt.date.fromisoformat(str(value)))
    return value


def aspects_words(names: list[str]) -> str:
    """ "the glass", "the glass and the pours", "the glass, the pours and the finish"."""
    words = [str(_ASPECTS[Aspect(name)]) for name in names]
    if len(words) == 1:
        return words[0]
    return now("%(first)s and %(last)s") % {"first": ", ".join(words[:-1]), "last": words[-1]}
