"""Why something was refused or found wrong, as a value; `wording.py` turns it into a sentence."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Reason:
    """A code and its parameters, sorted by name so that equal reasons compare equal."""

    code: str
    params: tuple[tuple[str, str | int], ...] = ()

    @classmethod
    def of(cls, code: str, **params: str | int) -> Reason:
        return cls(code, tuple(sorted(params.items())))

    def param(self, name: str) -> str | int:
        return dict(self.params)[name]


class Refused(Exception):  # noqa: N818  (it is an answer, not an error)
    """A verb would not do it. `field` names the form field the sentence stands beside."""

    def __init__(self, reason: Reason, field: str | None = None) -> None:
        super().__init__(reason.code)
        self.reason = reason
        self.field = field


def refuse(code: str, /, field: str | None = None, **params: str | int) -> Refused:
    """Shorthand for `raise refuse("used_twice", house="Harbour")`."""
    return Refused(Reason.of(code, **params), field)
