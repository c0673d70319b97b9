"""Where the figures that ready takes contradict each other or what can be known at all."""

from assessments.measures.ready_facts import ReadyPolicy
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "bar_never_right": (),
    "bar_never_wrong": (),
    "bar_idle": ("least", "most", "rest"),
    "bar_second_is_everybody": (),
}


def doubts(policy: ReadyPolicy) -> tuple[Reason, ...]:
    """What whoever sets it should know. The low end of what is known never comes to all orders,
    and wrong never to none, so such a bar is never met; where so many must be right that no more
    can be wrong than is taken anyway, wrong decides nothing."""
    least, most = round(100 * policy.least_right), round(100 * policy.most_wrong)
    found = []
    if least >= 100:
        found.append(Reason.of("bar_never_right"))
    if most <= 0:
        found.append(Reason.of("bar_never_wrong"))
    if least < 100 and least + most >= 100:
        found.append(Reason.of("bar_idle", least=least, most=most, rest=100 - least))
    if round(100 * policy.second_right) <= 0:
        found.append(Reason.of("bar_second_is_everybody"))
    return tuple(found)
