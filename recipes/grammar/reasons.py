"""Reason values: why something is refused, missing or so, without a word of any language."""

from collections.abc import Mapping
from dataclasses import dataclass

Value = str | int | float | bool


@dataclass(frozen=True)
class Reason:
    """A code and the values that its sentence needs; a catalogue on the Django side words it.

    `params` is a sorted tuple of pairs so that reasons can be compared, hashed and stored.
    """

    code: str
    params: tuple[tuple[str, Value], ...] = ()

    @classmethod
    def of(cls, code: str, **params: Value) -> "Reason":
        pairs = tuple(params.items())
        return cls(code, pairs if len(pairs) < 2 else tuple(sorted(pairs)))

    @property
    def values(self) -> Mapping[str, Value]:
        return dict(self.params)


class CannotBuild(ValueError):  # noqa: N818  # it is no error of the program
    """A drink that nobody can make, with every reason found."""

    def __init__(self, reasons: tuple[Reason, ...]) -> None:
        super().__init__("; ".join(f"{r.code} {dict(r.params)}" for r in reasons))
        self.reasons = reasons
