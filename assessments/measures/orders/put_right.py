"""Whether somebody still knows what they were put right about.

How much a pour of the house is stands in every drink that is poured so, and no answer about a whole
drink shows it. So how well drinks take hold says nothing of it, and it is followed by itself: it is
known or not, and each answer that asks about it alone tells which (Bayes's rule for two states, as
in knowledge tracing: Corbett and Anderson 1995, with their learning left to the first showing).
"""

from dataclasses import dataclass, field

SLIP = 0.05
"""Whoever knows it still answers wrong so often: a slip, or a wrong mark (our own number)."""

SURELY = (1 - SLIP) / SLIP
"""The odds that it is known lie between this to one, where they stand once it is shown, and one to
this: a year of right answers doesn't outweigh wrong ones of this week, nor the other way round."""

SETTLED = 0.99
"""As good as never missed."""


@dataclass
class PutRight:
    """Of one person, by topic: the odds that it is known, where it was missed once shown."""

    odds: dict[int, float] = field(default_factory=dict)

    def took(self, topic: int) -> float:
        """The chance that it is known, as a part of what it was before it was ever missed: 0 to 1,
        1 where nothing was missed."""
        odds = self.odds.get(topic, SURELY)
        return odds * (1 + SURELY) / (SURELY * (1 + odds))

    def answered(self, topic: int, *, right: bool, choices: int) -> None:
        """An answer about this topic alone. A right one among few may be luck."""
        odds = self.odds.get(topic, SURELY)
        luck = 1 / choices
        odds *= (1 - SLIP) / luck if right else SLIP / (1 - luck)
        self.odds[topic] = max(odds, 1 / SURELY)
        if self.took(topic) > SETTLED:
            del self.odds[topic]

    def built(self, topic: int) -> None:
        """A trainer saw it in the glass: nobody guesses that."""
        self.odds.pop(topic, None)
