"""`preflight compare OLD.json NEW.json`: the second look after corrections."""

from __future__ import annotations

from pathlib import Path

import click
import msgspec

from preflight.cli.endings import Exit
from preflight.cli.outputs import deliver_list, objections_anew
from preflight.datafiles import DataMistakes
from preflight.reporting.comparing import compare as compared
from preflight.reporting.comparison_told import comparison_to_json, show_comparison
from preflight.reporting.lines import Sheet
from preflight.reporting.machine import reports_from_json
from preflight.reporting.report import Report

_LONGEST = 200_000_000
"""In bytes: a report with the pictures of forty small places has a hundredth of that."""
_FILE = click.Path(path_type=Path)


@click.command()
@click.argument("old", type=_FILE, metavar="OLD.json")
@click.argument("new", type=_FILE, metavar="NEW.json")
@click.option("--json", "json_to", metavar="FILE|-", help="Write it as JSON; - puts it in place of the text.")
def compare(old: Path, new: Path, json_to: str | None) -> int:
    """Compare two reports that check --json wrote: what is mended, what is new, what is still there.

    Ends with 0 if nothing is new and nothing is unknown, else with 1. Whether the papers pass is for check to say.
    """
    if json_to and json_to != "-" and (mistakes := list(objections_anew({"--json": json_to}))):
        raise DataMistakes(mistakes)
    before, after = _by_office(old), _by_office(new)
    both = [office for office in after if office in before]
    if not both:
        raise click.ClickException(f"{old} and {new} are on different offices: there is nothing to compare")
    pairs = [(before[office], after[office], compared(before[office], after[office])) for office in both]
    calm = not any(found.new or found.unknown for _, _, found in pairs)

    def show(sheet: Sheet) -> None:
        for number, (then, now, found) in enumerate(pairs):
            if number:
                sheet.blank()
            show_comparison(then, now, found, sheet)

    deliver_list(json_to, comparison_to_json(pairs), show)
    return Exit.PASS if calm else Exit.FAIL


def _by_office(path: Path) -> dict[str, Report]:
    try:
        with path.open("rb") as stream:
            raw = stream.read(_LONGEST + 1)
        if len(raw) > _LONGEST:
            raise click.ClickException(f"{path}: it is longer than {_LONGEST} bytes")
        return {report.bundle.office: report for report in reports_from_json(raw)}
    except OSError as error:
        why = f"{path} cannot be read ({error.strerror})"
        raise click.ClickException(f"{why}; name two reports that preflight check FOLDER --json FILE wrote") from error
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise click.ClickException(f"{path}: this is no report that check --json wrote ({error})") from error
