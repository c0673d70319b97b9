"""People's names as typed: any script, at most 80 characters, nothing invisible."""

from __future__ import annotations

import unicodedata

from .reasons import refuse

NAME_LENGTH = 80
# Joiners are part of how some scripts are spelled (Persian, Malayalam, ...).
_JOINERS = {"\u200c", "\u200d"}


def clean_name(text: str, field: str = "name") -> str:
    """The name with runs of space made one. Refuses empty, too long, and control characters."""
    if any(_is_control(letter) for letter in text.strip()):
        raise refuse("name_control_characters", field)
    name = " ".join(unicodedata.normalize("NFC", text).split())
    if not name:
        raise refuse("name_missing", field)
    if len(name) > NAME_LENGTH:
        raise refuse("name_too_long", field, most=NAME_LENGTH)
    return name


def clean_sign_in(text: str, field: str = "sign_in") -> str:
    """The name one signs in with, an e-mail or a nickname: compared without regard to case."""
    sign_in = unicodedata.normalize("NFKC", clean_name(text, field)).casefold()
    if " " in sign_in:
        raise refuse("sign_in_has_space", field)
    if len(sign_in) > NAME_LENGTH:  # folding can make it longer
        raise refuse("name_too_long", field, most=NAME_LENGTH)
    return sign_in


def _is_control(letter: str) -> bool:
    """Controls, line separators, private and unassigned characters, and writing-direction marks
    (which make one name look like another)."""
    return letter not in _JOINERS and (
        unicodedata.category(letter)[0] == "C" or unicodedata.category(letter) in {"Zl", "Zp"}
    )
