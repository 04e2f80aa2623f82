"""The command line: clock, environment and terminal enter here and nowhere else."""

from __future__ import annotations

import sys
from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command and leave with its exit code; a broken installation is exit 3, never mistaken for FAIL."""
    try:
        from preflight.cli.commands import preflight  # noqa: PLC0415 - a library that does not load is caught here
    except KeyboardInterrupt:
        sys.stderr.write("interrupted: nothing was checked\n")
        sys.exit(130)
    except Exception as error:  # noqa: BLE001 - whatever it is, exit 1 would read as FAIL
        sys.stderr.write(f"preflight could not be loaded: {type(error).__name__}: {error}\n")
        sys.stderr.write("nothing was checked; install it again, in an environment of its own\n")
        sys.exit(3)
    preflight.main(args=None if arguments is None else list(arguments), prog_name="preflight")


__all__ = ["main"]
