"""LibreOffice as filers use it: a document goes in, a PDF comes out."""

import json
import subprocess
import tempfile
from pathlib import Path
from typing import Final

from matter import TITLE
from normalising import normalise

EXPORT: Final = {
    "SelectPdfVersion": {"type": "long", "value": "16"},
    "UseTaggedPDF": {"type": "boolean", "value": "false"},
    "ExportBookmarks": {"type": "boolean", "value": "false"},
    "ExportFormFields": {"type": "boolean", "value": "false"},
}
LOCALE: Final = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" oor:op="fuse">
<value>{locale}</value></prop></item>
<item oor:path="/org.openoffice.Office.Linguistic/General"><prop oor:name="DefaultLocale" oor:op="fuse">
<value>{locale}</value></prop></item>
</oor:items>
"""
"""Settings of a user whose word processor speaks another language; decimal sign and language of the PDF follow."""


def export(
    document: bytes,
    suffix: str,
    target: Path,
    *,
    title: str = TITLE,
    program: str = "writer",
    options: dict[str, dict[str, str]] | None = None,
    locale: str = "",
) -> None:
    """Export a document of this kind (.fodt, .docx, .fodg) as PDF, by default as PDF 1.6 without tags."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        source = folder / f"document{suffix}"
        source.write_bytes(document)
        if locale:
            settings = folder / "profile" / "user" / "registrymodifications.xcu"
            settings.parent.mkdir(parents=True)
            settings.write_text(LOCALE.format(locale=locale), encoding="utf-8")
        convert(source, folder, f"{program}_pdf_Export", EXPORT if options is None else options)
        target.write_bytes(source.with_suffix(".pdf").read_bytes())
    normalise(target, f"LibreOffice {program.capitalize()}", title)


def convert(source: Path, folder: Path, filter_name: str, options: dict[str, dict[str, str]]) -> None:
    """Let LibreOffice export one document into the folder, with a profile of its own."""
    subprocess.run(
        [
            "soffice",
            f"-env:UserInstallation={(folder / 'profile').as_uri()}",
            "--headless",
            "--convert-to",
            f"pdf:{filter_name}:{json.dumps(options)}",
            "--outdir",
            str(folder),
            str(source),
        ],
        check=True,
        capture_output=True,
        timeout=180,
    )
