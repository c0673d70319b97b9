"""What every command for scripts promises: bad input is one line on stderr, and exit 2."""

from __future__ import annotations

import sys
from functools import partial
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandParser


class AskingCommand(BaseCommand):
    """A command whose words are refused on one line, without the usage above it."""

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> CommandParser:
        parser = super().create_parser(prog_name, subcommand, **kwargs)
        if getattr(self, "_called_from_command_line", False):
            parser.error = partial(_one_line, parser.prog)  # type: ignore[method-assign]
        return parser

    def run_from_argv(self, argv: list[str]) -> None:
        """Bytes that are no text reach nobody: no database takes them."""
        if any(not _is_text(said) for said in argv):
            _one_line(f"manage.py {self.__module__.rpartition('.')[2]}", "that is no text in UTF-8")
        super().run_from_argv(argv)


def _is_text(said: str) -> bool:
    try:
        said.encode()
    except UnicodeEncodeError:
        return False
    return True


def _one_line(prog: str, message: str) -> NoReturn:
    sys.stderr.write(f"{prog}: {' '.join(message.split())}; --help says what it takes.\n")
    sys.exit(2)
