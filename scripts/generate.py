"""Writes every generated part of the documentation, and the digest of data files whose form was checked.

With --check it only says which are stale, and then ends 1.
"""

from __future__ import annotations

import datetime as dt
import re
import sys
from collections.abc import Callable
from pathlib import Path

from requirement_list import requirement_list

from preflight.datafiles import DataMistakes, schema
from preflight.engine import Request, check_folder
from preflight.plugging import built_in, registry_of
from preflight.reporting.renderer import to_text
from preflight.rulebooks.loader import FORM_CHECKED, contents_of, form_digest, read_tables

ROOT = Path(__file__).resolve().parents[1]
README = ROOT / "README.md"
DAY = "2026-11-25"
LAW = ROOT / "preflight" / "rulebooks" / "us"


def report() -> str:
    """The beginning of a real report, up to the questions; of the program alone, whatever is installed here."""
    shown = f"preflight check sample_bundles/hurried --filing-date {DAY}"
    day = dt.date.fromisoformat(DAY)
    now = dt.datetime.combine(day, dt.time(23, 40), dt.UTC)
    folder = ROOT / "sample_bundles" / "hurried"
    text = to_text(check_folder(folder, Request(filing_date=day), now=now, registry=registry_of(built_in())))
    beginning = text[: re.search(r"^\d+ QUESTIONS? FOR YOU", text, re.MULTILINE).start()]  # type: ignore[union-attr]
    lines = [line.rstrip() for line in beginning.rstrip().splitlines()]
    return "\n".join(["```", f"$ {shown}", *lines, "...", "```"])


def form_checked() -> str:
    """The digest of the rulebook that comes with the program; raises DataMistakes if its form is wrong."""
    form = schema("rulebook")
    if mistakes := read_tables(LAW, form, anew=True).mistakes:
        raise DataMistakes(mistakes)
    return form_digest(contents_of(LAW, []), form)


PARTS: dict[tuple[Path, str], Callable[[], str]] = {
    (README, "report"): report,
    (ROOT / "docs" / "requirements.md", "requirements"): requirement_list,
}
"""What is generated: file and name of the part, and what makes it."""


def main(arguments: list[str]) -> int:
    """0 if everything is fresh, or was written."""
    write = "--check" not in arguments
    stale = [LAW / FORM_CHECKED] if _renewed(LAW / FORM_CHECKED, form_checked() + "\n", write=write) else []
    stale += [path for (path, name), make in PARTS.items() if _renew(path, name, make(), write=write)]
    for path in stale:
        state = "is written" if "--check" not in arguments else "is stale; run: python scripts/generate.py"
        sys.stderr.write(f"{path.relative_to(ROOT)} {state}\n")
    return 1 if stale and "--check" in arguments else 0


def _renew(path: Path, name: str, text: str, *, write: bool) -> bool:
    """Whether the part differed."""
    old = path.read_text(encoding="utf-8")
    begin, end = f"<!-- made by scripts/generate.py: {name} -->\n", "<!-- end -->"
    head, rest = old.split(begin)
    return _renewed(path, f"{head}{begin}{text}\n{end}{rest.split(end, 1)[1]}", write=write)


def _renewed(path: Path, new: str, *, write: bool) -> bool:
    """Whether the file differed."""
    differs = not path.is_file() or path.read_text(encoding="utf-8") != new
    if differs and write:
        path.write_text(new, encoding="utf-8")
    return differs


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
