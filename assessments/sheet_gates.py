"""The gates of one station for everybody on a board, counted before any of them is named."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from assessments.asked import Bar
from assessments.gate_facts import ToProve
from assessments.measures.gates import shut_by_hands, shut_by_permits
from assessments.measures.ready_facts import Gates, Proof, ReadyPolicy, Safety
from assessments.ready_rows import SAFETIES, SIGNED, Known
from recipes.grammar.reasons import Reason
from recipes.menu import MenuDrink


@dataclass(frozen=True, eq=False)
class SheetGates:
    """`places` are those of the station's drinks on the menu; a person is named by their number on
    the board."""

    items: Sequence[MenuDrink]
    known: Known
    bar: Bar
    places: list[int]

    def of(self, place: int) -> Gates:
        """What is known of one person beside drinks."""
        gates, left = self.bar.gates[place], self._to_prove[place]
        return replace(gates, to_prove=left) if left else gates

    @cached_property
    def _to_prove(self) -> list[tuple[str, ...]]:
        """What is left to each to prove; nothing where must-knows are looked at one by one."""
        if self.bar.policy.proof is not Proof.FAMILIES:
            return [()] * len(self.known)
        left = ToProve(self.items)
        slugs = [i.drink.slug for i in self.items]
        signed = (self.known.signed[:, self.places] == SIGNED).tolist()
        return [
            left.names(s for s, is_so in zip(slugs, row, strict=True) if is_so) for row in signed
        ]

    @cached_property
    def law(self) -> NDArray[np.intp]:
        """How many of the gates that no manager lifts are shut for each."""
        no_safety = self.known.safety != SAFETIES.index(Safety.PASSED)
        found: NDArray[np.intp] = no_safety + self._counted(shut_by_permits)
        return found

    @cached_property
    def gaps(self) -> NDArray[np.intp]:
        """How many gates each has yet to pass."""
        found: NDArray[np.intp] = self.law + self._unproven + self.unchecked
        return found

    @cached_property
    def unchecked(self) -> NDArray[np.intp]:
        """By place, how many checks of pours and pace have yet to be passed."""
        return self._counted(shut_by_hands)

    @cached_property
    def barred(self) -> list[bool]:
        """By place, whether a gate is shut that no trainer opens."""
        nothing_to_show = not any(i.recipe.must_know for i in self.items)
        found: list[bool] = ((self.law > 0) | nothing_to_show).tolist()
        return found

    @property
    def unshown(self) -> NDArray[np.intp]:
        """By place, how many builds have yet to be signed off."""
        if self.bar.policy.proof is Proof.FAMILIES:
            return np.array([len(left) for left in self._to_prove], dtype=np.intp)
        return self._unsigned

    @property
    def _unproven(self) -> NDArray[np.intp]:
        """How many gates of what is to be shown are shut for each."""
        must = any(i.recipe.must_know for i in self.items)
        if self.bar.policy.proof is Proof.FAMILIES and must:
            return np.array([bool(left) for left in self._to_prove], dtype=np.intp)
        return self._unsigned + (not must)

    @cached_property
    def _unsigned(self) -> NDArray[np.intp]:
        """Of must-knows."""
        must = [p for p, i in zip(self.places, self.items, strict=True) if i.recipe.must_know]
        found: NDArray[np.intp] = (self.known.signed[:, must] != SIGNED).sum(axis=1)
        return found

    def checks_take(self, minutes: Callable[[Reason], int]) -> NDArray[np.intp]:
        """By place, the minutes of all checks that have yet to be passed."""
        return self._counted(shut_by_hands, minutes)

    def to_show(self, place: int) -> set[str]:
        """The slugs of what has yet to be signed off."""
        if self.bar.policy.proof is Proof.FAMILIES:
            names = self._to_prove[place]
            return {i.drink.slug for i in self.items if i.drink.name in names}
        signed = self.known.signed[place, self.places].tolist()
        pairs = zip(self.items, signed, strict=True)
        return {i.drink.slug for i, byte in pairs if i.recipe.must_know and byte != SIGNED}

    def _counted(
        self,
        shut: Callable[[ReadyPolicy, Gates], Iterable[Reason]],
        counts: Callable[[Reason], int] = lambda _gate: 1,
    ) -> NDArray[np.intp]:
        """For each how many of these gates are shut, or what each `counts` for, together; nothing
        to look at where none is asked for."""
        if not self.bar.policy.asks_beside:
            return np.zeros(len(self.known), dtype=np.intp)
        sums = [sum(map(counts, shut(self.bar.policy, gates))) for gates in self.bar.gates]
        return np.array(sums, dtype=np.intp)
