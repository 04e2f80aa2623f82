"""The worked examples of entity and papers (RULES-us-filing 9, K76 ff.) through the whole US rulebook."""

from __future__ import annotations

from typing import Any

import pytest

from preflight.checks.built_in import CHECKS
from preflight.papers import entity_claimed
from preflight.testing import filing, judged, requirements, rulebook

Words = dict[str, Any]
TEXT: Words = {"role": "specification", "pages": [{"text": ["VALVE WITH A LEVER", "", "The lever turns about a pin."]}]}
FEE_SHEET: Words = {"role": "fee-sheet", "file": "fees.pdf", "pages": ["FEE TRANSMITTAL\nTotal fee: $65"]}


def cover(tick: str = "", where: str = "Ada Example, Portland, Oregon") -> Words:
    return {
        "role": "cover-sheet",
        "pages": [
            "PROVISIONAL APPLICATION FOR PATENT COVER SHEET\nTitle of the invention: Valve with a lever\n"
            f"Inventor: {where}\n[{'X' if tick == 'small' else ' '}] Small entity\n"
            f"[{'X' if tick == 'micro' else ' '}] Micro entity\nTotal fee: $65"
        ],
    }


def certification(signer: str = "Ada Example") -> Words:
    return {
        "role": "entity-certification",
        "file": "micro.pdf",
        "pages": [
            "CERTIFICATION OF MICRO ENTITY STATUS (GROSS INCOME BASIS)\nFirst named inventor: Ada Example\n"
            f"Title of invention: Valve with a lever\nSignature: /{signer}/\nName: {signer}"
        ],
    }


CERTIFICATION = certification()
BOTH = "Ada Example, Portland, Oregon\nInventor: Bo Muster, Salem, Oregon"
FIRM = "Ada Example, Portland, Oregon\nApplicant: Example Valves Inc."
OFFICER = certification(signer="Bo Muster")
DATA_SHEET: Words = {
    "role": "application-data-sheet",
    "pages": [
        "Application Data Sheet\nApplication type: Provisional\nTitle of the invention: Valve with a lever\n"
        "Entity status: Small\nSignature: /Ada Example/\nName: Ada Example"
    ],
}


def findings(*papers: Words) -> set[str]:
    words: Words = {"papers": list(papers)}
    verdict = judged(filing(words, fees=rulebook("us").fees), requirements("us"), CHECKS)
    return {one.requirement.id for one in verdict.findings}


@pytest.mark.parametrize(
    ("papers", "speaks", "silent"),
    [
        ([TEXT, cover("small"), CERTIFICATION], "", "us.micro"),  # K76, RULES-us-filing 3d
        ([TEXT, cover("micro")], "us.micro.form", ""),  # K77, RULES-us-filing 3d
        ([cover(), FEE_SHEET], "us.prov.filing-date", ""),  # K78, 35 USC 111(b)(4)
        ([TEXT], "us.prov.cover", "us.prov.filing-date"),  # K79, 37 CFR 1.53(c)(1)
        ([TEXT, DATA_SHEET, CERTIFICATION, FEE_SHEET], "", "us.prov.cover"),  # K80, 37 CFR 1.53(c)(1)
        ([TEXT, DATA_SHEET, CERTIFICATION, FEE_SHEET], "", "us.micro"),  # 10a 2: small on the data sheet
        ([TEXT, cover("micro", BOTH), CERTIFICATION], "us.micro.signer", ""),  # K92, MPEP 509.04(c)
        ([TEXT, cover("micro", FIRM), OFFICER], "us.micro.signer", ""),  # K93, 37 CFR 1.33(b)(3)
        ([TEXT, cover("micro", "Ada Example, London, United Kingdom"), CERTIFICATION], "", "us.prov.cover"),  # K83
    ],
)
def test_a_worked_example_is_judged_as_published(papers: list[Words], speaks: str, silent: str) -> None:
    found = findings(*papers)
    assert not speaks or speaks in found
    assert not silent or not [one for one in found if one.startswith(silent)]


def test_small_on_a_data_sheet_beside_a_signed_certification_owes_the_micro_fee() -> None:
    # RULES-us-filing 3d: the web data sheet offers regular and small only
    fees = rulebook("us").fees
    signed = filing({"papers": [TEXT, DATA_SHEET, CERTIFICATION, FEE_SHEET]}, fees=fees)
    assert entity_claimed(signed).name == "micro"
    assert entity_claimed(filing({"papers": [TEXT, DATA_SHEET]}, fees=fees)).name == "small"
