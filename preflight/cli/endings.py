"""How a run ends: the exit codes, and the one place where the unexpected becomes a line, a hint and a code."""

from __future__ import annotations

import contextlib
import sys
import traceback
from collections.abc import Callable, Iterator, Sequence
from enum import IntEnum
from pathlib import Path
from typing import Any, NoReturn

import click

from preflight.cli.streams import end_of_output
from preflight.datafiles import DataMistakes
from preflight.reporting.wording import clean


class Exit(IntEnum):
    """What scripts can rely on."""

    PASS = 0
    FAIL = 1
    COULD_NOT_START = 2
    TOOL_FAILED = 3
    INTERRUPTED = 130


class CannotDeliver(Exception):
    """The papers were checked, but the report could not be written where it was asked for."""


class Commands(click.Group):
    """A group of commands that ends every run with one of the exit codes above."""

    def main(self, args: Sequence[str] | None = None, *others: Any, **extra: Any) -> NoReturn:
        """Run and leave. Without click's own endings: there an interruption and some mistakes are 1, which is FAIL."""
        arguments = list(sys.argv[1:] if args is None else args)
        extra["standalone_mode"] = False
        code = ended(
            lambda: super(Commands, self).main(arguments, *others, **extra), show_traceback="--traceback" in arguments
        )
        end_of_output()
        sys.exit(int(code))


@contextlib.contextmanager
def no_other_ending() -> Iterator[None]:
    """While plug-ins are at work nothing but a failure may end the program: an exit with 0 would read as PASS.

    The end of a file and a closed pipe are among them because click takes them for an interruption and for exit 1.
    """
    try:
        yield
    except (SystemExit, EOFError, BrokenPipeError, click.exceptions.Exit, click.ClickException) as error:
        raise RuntimeError(f"something tried to end the program ({type(error).__name__} {error})") from error


def ended(run: Callable[[], object], *, show_traceback: bool = False) -> Exit:
    """Run and say how it ended; whatever goes wrong is told on standard error."""
    try:
        result = run()
        return Exit(result) if isinstance(result, int) else Exit.PASS
    except (KeyboardInterrupt, click.Abort):
        say("interrupted; nothing was proven about these papers")
        return Exit.INTERRUPTED
    except click.UsageError as error:
        error.show()
        return Exit.COULD_NOT_START
    except click.ClickException as error:
        say(error.format_message())
        return Exit.COULD_NOT_START
    except DataMistakes as error:
        for mistake in error.mistakes:
            say(mistake)
        say("nothing was checked and nothing was written; put this right and try again")
        return Exit.COULD_NOT_START
    except CannotDeliver as error:
        say(str(error))
        return Exit.TOOL_FAILED
    except SystemExit as error:  # click's own: completion in a shell, or the reader of a help text has gone
        return Exit.TOOL_FAILED if error.code else Exit.PASS
    except Exception as error:  # noqa: BLE001 - the one handler of the unexpected
        _unexpected(error, show_traceback=show_traceback)
        return Exit.TOOL_FAILED


def _unexpected(error: Exception, *, show_traceback: bool) -> None:
    """A bug of ours or of a plug-in: what, where, and that nothing is proven."""
    if show_traceback:
        say("".join(traceback.format_exception(error)).rstrip(), whole=True)
    said = " ".join(str(error).split())
    say(f"preflight failed: {type(error).__name__}{f': {said}' if said else ''}{_place(error)}")
    say("nothing was proven and the papers have not passed; the fault is in the program, not in the papers")
    if not show_traceback:
        say("to see where, run it again as: preflight --traceback check FOLDER")
    say("report the lines above to the people who maintain it; take out what is confidential first")


def _place(error: Exception) -> str:
    frames = traceback.extract_tb(error.__traceback__)
    return f" ({Path(frames[-1].filename).name}, line {frames[-1].lineno})" if frames else ""


def say(line: str, *, whole: bool = False) -> None:
    """Tell a line on standard error, made harmless unless it is `whole`."""
    shown = line if whole else clean(line)
    click.echo(shown.encode("utf-8", "backslashreplace").decode("utf-8"), err=True)
