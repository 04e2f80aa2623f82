"""The commands of `preflight`."""

from __future__ import annotations

import click

from preflight import __version__
from preflight.cli.catalogue import explain, requirements
from preflight.cli.characters import characters
from preflight.cli.check import check
from preflight.cli.compare import compare
from preflight.cli.dates import dates
from preflight.cli.declare import declare
from preflight.cli.drawings import drawings
from preflight.cli.endings import Commands
from preflight.cli.fees import fees
from preflight.cli.keeping import forget
from preflight.cli.seal import seal, verify
from preflight.cli.sign import answer, sign, withdraw


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="preflight", message="%(prog)s %(version)s")
@click.option("--traceback", is_flag=True, help="If the program itself fails, show where.")
def preflight(traceback: bool) -> None:
    """The last look at a folder of patent application papers before it is uploaded."""


preflight.add_command(check)
preflight.add_command(sign)
preflight.add_command(answer)
preflight.add_command(withdraw)
preflight.add_command(seal)
preflight.add_command(verify)
preflight.add_command(compare)
preflight.add_command(drawings)
preflight.add_command(characters)
preflight.add_command(dates)
preflight.add_command(fees)
preflight.add_command(declare)
preflight.add_command(requirements)
preflight.add_command(explain)
preflight.add_command(forget)
