"""Thin margins and colour, weighed for filing and for the examination: exactly as the sheets' two consequences say.

Source: 37 CFR 1.52(a)(1)(ii) and 1.84(a)(2), (g); the rows us.text.margins, us.drawing.margins and us.drawing.colour of
the rules as read give "advice / notice" for each.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from reportlab.lib.colors import HexColor
from reportlab.lib.units import cm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

DAY = "2026-11-25"
WORDS = "it turns about a pin and moves the spring until the stop meets it."
WANTED = {"us.text.margins", "us.drawing.margins", "us.drawing.colour"}
MISSED_LATER = {"us.text.claims-optional": "notice", "us.text.abstract": "notice", "us.text.summary": "advice"}
"""Parts that the text of this test leaves out, and only the examination asks for (37 CFR 1.73 to 1.75, 1.72(b))."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory, bundles: Path) -> Path:
    """The proper bundle with a specification of thin margins, and drawings with thin margins and a red figure."""
    folder = tmp_path_factory.mktemp("thin")
    for name in ("cover.pdf", "micro.pdf"):
        (folder / name).write_bytes((bundles / "proper" / name).read_bytes())
    _specification(folder / "specification.pdf")
    _drawings(folder / "drawings.pdf")
    return folder


def _specification(path: Path) -> None:
    """Six pages, as the cover sheet states, 1.6 cm from the left edge."""
    canvas = _canvas(path)
    heads = [
        "GARDEN HOSE GUIDE WITH TILTING ROLLER",
        "BACKGROUND",
        "Guides are known.",
        "BRIEF DESCRIPTION OF THE DRAWINGS",
    ]
    views = [f"FIG. {number} is a view of the guide." for number in (1, 2, 3)]
    for page in range(1, 7):
        canvas.setFont("Vera", 11)
        words = [f"Part {10 * page + line} of FIG. {line % 3 + 1}: {WORDS}" for line in range(6)]
        for number, line in enumerate([*heads, *views, "DETAILED DESCRIPTION", *words] if page == 1 else words):
            canvas.drawString(1.6 * cm, (25 - 0.75 * number) * cm, line)
        canvas.drawCentredString(10.8 * cm, 1.2 * cm, str(page))
        canvas.showPage()
    canvas.save()


def _drawings(path: Path) -> None:
    """Three sheets, as the cover sheet states, the figures red and 1.5 cm from the left edge."""
    canvas = _canvas(path)
    for sheet in (1, 2, 3):
        canvas.setFont("Vera", 16)
        canvas.drawString(10 * cm, 24.5 * cm, f"{sheet}/3")
        canvas.drawString(10 * cm, 5 * cm, f"FIG. {sheet}")
        canvas.setStrokeColor(HexColor("#cc0000"))
        canvas.setLineWidth(3)
        canvas.rect(1.5 * cm, 8 * cm, (14 + sheet) * cm, 14 * cm)
        canvas.circle(9 * cm, 15 * cm, 4 * cm)
        canvas.showPage()
    canvas.save()


def _canvas(path: Path) -> Canvas:
    pdfmetrics.registerFont(TTFont("Vera", "Vera.ttf"))
    return Canvas(str(path), pagesize=(21.59 * cm, 27.94 * cm), invariant=True)


def _found(folder: Path, ready_for: str, tmp_path: Path) -> tuple[int, dict[str, str], dict[str, dict[str, str]]]:
    out = tmp_path / "report.json"
    command = [sys.executable, "-P", "-m", "preflight", "check", str(folder), "--filing-date", DAY]
    kept = {**os.environ, "PREFLIGHT_CACHE": os.environ["PREFLIGHT_TESTS_KEEP"]}
    options = ["--ready-for", ready_for, "--json", str(out)]
    done = subprocess.run([*command, *options], capture_output=True, check=False, env=kept)
    findings = json.loads(out.read_text("utf-8"))["findings"]
    levels = {f["requirement"]: f["consequence"] for f in findings}
    return done.returncode, levels, {f["requirement"]: f["consequences"] for f in findings}


def test_filing_and_examination_weigh_the_same_faults_as_the_sheets_say(folder: Path, tmp_path: Path) -> None:
    code, filing, both = _found(folder, "filing", tmp_path)
    assert filing.keys() == WANTED
    assert set(filing.values()) == {"advice"}
    assert code == 0
    assert all(pair == {"filing": "advice", "examination": "notice"} for pair in both.values())
    code, examination, same = _found(folder, "examination", tmp_path)
    assert examination == dict.fromkeys(WANTED, "notice") | MISSED_LATER
    assert code == 1
    assert {name: pair for name, pair in same.items() if name in WANTED} == both
