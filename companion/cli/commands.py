"""The table of commands, and the one place where a failure becomes a line and an exit status.

A command is a module of this folder with `SUMMARY`, `add_arguments(parser)` and `run(arguments) -> int`. Only the
module of the command that was asked for is imported, so that `fellside check` does not wait for a window.
"""

from __future__ import annotations

import argparse
import os
import re
import shutil
import sys
from collections.abc import Collection, Sequence
from importlib import import_module
from textwrap import wrap
from typing import NoReturn, Protocol, cast

from companion.cli.spoken import spoken
from companion.cli.status import BAD_INPUT, DONE, CommandError
from companion.cli.told_otherwise import OF_THE_SETTINGS
from companion.draft.units import Units
from companion.journal.errors import JournalError
from companion.present.trade_words import Trade
from companion.workshop.preference_file import load_preferences, preference_file

COMMANDS = (
    "weave",
    "dress",
    "check",
    "remap",
    "pieces",
    "picks",
    "find",
    "amounts",
    "plan",
    "looms",
    "record",
    "square",
    "sheet",
    "set",
    "export",
    "backup",
    "bundle",
    "pedal",
    "rehearse",
)


_INDENT = 12
"""Columns before what a command does."""
_STANDS_FOR = re.compile(r"\b[A-Z]{2,}\b")
"""What stands for something to type, as help has it."""


class CommandModule(Protocol):
    """What a command module offers."""

    SUMMARY: str

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Declare the command's arguments."""

    def run(self, arguments: argparse.Namespace) -> int:
        """Do the command and return the exit status; raises CommandError, or an error of the core in one line."""


class _SpokenHelp(argparse.HelpFormatter):
    """Help in the words of the settings, broken into lines only then; the usage, which is typed, stays as it is."""

    def __init__(self, prog: str, trade: Trade, typed: Collection[str]) -> None:
        super().__init__(prog)
        self._trade = trade
        self._typed = typed

    def start_section(self, heading: str | None) -> None:
        super().start_section(None if heading is None else self._spoken(heading))

    def _split_lines(self, text: str, width: int) -> list[str]:
        return super()._split_lines(self._spoken(text), width)

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        return super()._fill_text(self._spoken(text), width, indent)

    def _spoken(self, text: str) -> str:
        return spoken(text, self._trade, (*self._typed, *_STANDS_FOR.findall(text)))


class _OneLineParser(argparse.ArgumentParser):
    """argparse, but a usage error is one line on stderr, and the help is in the words of the settings."""

    def __init__(self, prog: str, description: str, trade: Trade) -> None:
        def formatter(prog: str) -> _SpokenHelp:
            typed = [str(choice) for action in self._actions for choice in action.choices or ()]
            return _SpokenHelp(prog, trade, typed)

        super().__init__(prog=prog, description=description, formatter_class=formatter)

    def error(self, message: str) -> NoReturn:
        print(f"{self.prog}: {message}; see {self.prog} --help", file=sys.stderr)
        sys.exit(BAD_INPUT)


def _module(name: str) -> CommandModule:
    return cast(CommandModule, import_module(f"companion.cli.{name}"))


def _usage(trade: Trade) -> str:
    """Return what commands there are, in the words of the settings and lines of the terminal's width."""
    width = max(shutil.get_terminal_size().columns, 2 * _INDENT)
    lines = [
        line
        for name in COMMANDS
        for line in wrap(
            spoken(_module(name).SUMMARY, trade),
            width,
            initial_indent=f"  {name:<{_INDENT - 3}} ",
            subsequent_indent=" " * _INDENT,
        )
    ]
    return "fellside [COMMAND]  (alone: opens the last warp)\n\ncommands:\n" + "\n".join(lines)


def run(words: Sequence[str]) -> int:
    """Run `fellside` with these words and return its exit status; a failure is one line on stderr."""
    name, *rest = words or ("weave",)
    try:
        status = _run(name, rest)
        # What lies in the buffer still must be seen to arrive. (A stdout that was closed from the start takes nothing.)
        print(end="", flush=True)
        return status
    except CommandError as error:
        print(f"fellside {name}: {_one_line(str(error))}", file=sys.stderr)
        return error.status
    except JournalError as error:
        # Such as no home to keep anything in, which any command may stumble over.
        print(f"fellside {name}: {_one_line(str(error))}", file=sys.stderr)
        return BAD_INPUT
    except BrokenPipeError:
        # The reader (a pager, head) has gone: nothing more to say, and no complaint at exit either.
        _forget_stdout()
        return 0
    except OSError as error:
        where = error.filename or "standard output"
        mend = "check the name, the rights and the room there"
        print(f"fellside {name}: {_one_line(f'{where}: {error.strerror or error}; {mend}')}", file=sys.stderr)
        if not error.filename:
            _forget_stdout()
        return BAD_INPUT
    except KeyboardInterrupt:
        return 130


def _run(name: str, rest: Sequence[str]) -> int:
    kept = load_preferences(preference_file())
    if name in ("-h", "--help", "help"):
        print(_usage(kept.trade), flush=True)
        return DONE
    if name not in COMMANDS:
        print(f"fellside: no command {name!r}; the commands are {', '.join(COMMANDS)}", file=sys.stderr)
        return BAD_INPUT
    command = _module(name)
    parser = _OneLineParser(f"fellside {name}", command.SUMMARY, kept.trade)
    command.add_arguments(parser)
    # How this weaver measures, reads and speaks stands in the settings; each command is told so here, and hands it on.
    parser.set_defaults(**{setting: getattr(kept, setting) for setting in OF_THE_SETTINGS})
    parser.add_argument(
        "--units", type=_units, metavar="metric|inch", help="say lengths and weights so (default: as the settings say)"
    )
    try:
        arguments = parser.parse_args(rest)
    except SystemExit as stop:
        return int(stop.code or DONE)
    try:
        return command.run(arguments)
    except CommandError as error:
        if error.of_a_file:
            raise
        raise CommandError(spoken(str(error), kept.trade), error.status) from error
    except JournalError as error:
        raise CommandError(spoken(str(error), kept.trade)) from error


def _units(word: str) -> Units:
    try:
        return Units(word.lower())
    except ValueError:
        raise argparse.ArgumentTypeError(f"{word[:20]!r}: give metric or inch") from None


def _forget_stdout() -> None:
    if sys.stdout is not None:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _one_line(text: str) -> str:
    return " ".join(text.split())
