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


def certification(signer: str = "Ada Example", signature: str = "") -> Words:
    signed = f"Signature: /{signer}/\nName: {signer}"
    return {
        "role": "entity-certification",
        "file": "micro.pdf",
        "pages": [
            "CERTIFICATION OF MICRO ENTITY STATUS (GROSS INCOME BASIS)\nFirst named inventor: Ada Example\n"
            f"Title of invention: Valve with a lever\n{signature or signed}"
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


def findings(*papers: Words) -> dict[str, str]:
    """Each requirement that speaks, with the consequence for the filing."""
    words: Words = {"papers": list(papers)}
    verdict = judged(filing(words, fees=rulebook("us").fees), requirements("us"), CHECKS)
    return {one.requirement.id: one.filing for one in verdict.findings}


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


def form(*lines: str, head: str = "PROVISIONAL APPLICATION FOR PATENT COVER SHEET") -> Words:
    every = (head, "Title of the invention: Valve with a lever", "Inventor: Ada Example, Portland, Oregon", *lines)
    return {"role": "cover-sheet", "pages": ["\n".join(every)]}


UNSIGNED_SHEET: Words = {
    "role": "application-data-sheet",
    "pages": [
        "Application Data Sheet\nApplication type: Provisional\nTitle of the invention: Valve with a lever\n"
        "Inventor: Ada Example, Portland, Oregon\nSignature: ____________\nName: Ada Example"
    ],
}
COMPLETE = form("Signature: /Ada Example/", "Name: Ada Example")
STREET: Words = {
    "role": "cover-sheet",
    "pages": [
        "PROVISIONAL APPLICATION COVER SHEET\nTitle of the invention: Valve with a lever\n"
        "Inventor: Ada Example\nStreet: 12 Main Street\nResidence: ____________"
    ],
}
OLD_FORM = form(
    "PTO/SB/16 (09-11)", "Filing fees: $250 undiscounted, $125 small entity", "Application size fee: $310 or $155"
)
BENEFIT: Words = {
    "role": "specification",
    "pages": [
        {"text": ["VALVE WITH A LEVER", "", "This application claims the benefit of US application 17/123,456."]}
    ],
}
NO_NUMBER = form("Practitioner: Cleo Sampleton", "Signature: /Cleo Sampleton/", "Name: Cleo Sampleton")


def titled(length: int) -> Words:
    title = ("Valve with a lever " * 30)[: length - 1] + "s"
    return {"role": "cover-sheet", "pages": [{"text": ["PROVISIONAL APPLICATION COVER SHEET", f"Title: {title}"]}]}


@pytest.mark.parametrize(
    ("papers", "requirement", "level"),
    [  # level None: it does not speak
        ([TEXT, UNSIGNED_SHEET], "us.prov.ads.signed", "notice"),  # K81, 37 CFR 1.76(e), 1.53(c)(1)
        ([TEXT, UNSIGNED_SHEET, COMPLETE], "us.prov.ads.signed", "advice"),  # K81
        ([TEXT, STREET], "us.prov.cover.residence", "notice"),  # K82, form SB/16
        ([TEXT, form(f"Docket number: {'D' * 25}")], "us.prov.cover.docket", None),  # K85, MPEP 503
        ([TEXT, form(f"Docket number: {'D' * 26}")], "us.prov.cover.docket", "advice"),  # K85
        ([TEXT, titled(500)], "us.prov.cover.title", None),  # K84, form SB/16
        ([TEXT, titled(501)], "us.prov.cover.title", "notice"),  # K84
        ([TEXT, OLD_FORM], "us.prov.cover.edition", "advice"),  # K86: outdated edition,
        ([TEXT, OLD_FORM], "us.fee.amount", None),  # K86: and the amounts that it prints are not used
        ([BENEFIT, COMPLETE], "us.prov.no-benefit", "notice"),  # K87, 35 USC 111(b)(7)
        ([TEXT, NO_NUMBER], "us.sign.s-number", "notice"),  # K91, 37 CFR 1.4(d)(2)(ii)
    ],
)
def test_a_worked_example_weighs_as_published(papers: list[Words], requirement: str, level: str | None) -> None:
    assert findings(*papers).get(requirement) == level


@pytest.mark.parametrize(
    ("signature", "signed"),
    [  # K88: office leaflet "S-signature examples"; K90: 37 CFR 1.4(d)(2)(i)
        ("Signature: /Ada Example/\nName: Ada Example", True),  # S1, S3, S4
        ("Signature: / Ada Example /\nName: Ada Example", True),  # S2
        ("Ada Example\n/Ada Example/", True),  # S5
        ("/Ada Example/ Ada Example", True),  # S6
        ("Signature: /Ada Exampel/\nName: Ada Exampel", True),  # S7
        ("Signature: /Dr. Ada M. Example, III/\nName: Dr. Ada M. Example, III", True),  # S13
        ("Signature: /a.e./\nName: Ada Example", True),  # K90
        ("Signature: Ada Example\nName: Ada Example", False),  # S8, S9
        ("Signature: //Ada Example//\nName: Ada Example", False),  # S10
        ("Signature: /Ada Example/", False),  # S11
        ("Signature: /\u263a/\nName: Ada Example", False),  # S12
        ("Signature: /A_1/\nName: Ada Example", False),  # K90: an underscore
        ("Signature: Ada Example\nDigitally signed by\nName: Ada Example", True),  # K89, 89 FR 20321: by hand
    ],
)
def test_a_certification_is_signed_as_the_leaflet_says(signature: str, signed: bool) -> None:
    found = findings(TEXT, cover("micro"), certification(signature=signature))
    assert found.get("us.micro.form") == (None if signed else "notice")


def test_of_income_and_earlier_applications_a_person_is_asked_as_the_statute_counts() -> None:
    # K72, 35 USC 123(a)(3): "exceeding", so that an income equal to the limit passes. K73: the newest limit known.
    asked = {question.id: question.text for question in rulebook("us").questions}
    assert "at or under the limit" in asked["micro-income"]
    assert f"{3 * 83_730:,} USD" in asked["micro-income"]
    # K74, K75, 35 USC 123(a)(2): 4 pass; provisionals and foreign applications do not count
    assert "at most 4 earlier US applications" in asked["micro-applications"]
    assert "Provisionals, foreign applications" in asked["micro-applications"]
    assert "do not count" in asked["micro-applications"]


@pytest.mark.parametrize(
    ("median", "limit"), [(83_730, 251_190), (80_610, 241_830), (70_784, 212_352), (68_703, 206_109)]
)
def test_the_income_limit_is_three_medians(median: int, limit: int) -> None:
    # K73: Census income reports; the last also on the office's page
    assert [row.limit for row in rulebook("us").income_limits if row.median == median] == [limit]


def test_a_scanned_certification_asks_what_a_micro_entity_is_asked() -> None:
    # 37 CFR 1.29: whoever certifies is asked for income and earlier applications, whether or not it could be read
    scan: Words = {"ink": [2.5, 2.5, 19.0, 25.0], "pictures": [{"box": [0.0, 0.0, 21.59, 27.94]}]}
    papers = [TEXT, {"role": "cover-sheet", "pages": [scan]}, {"role": "entity-certification", "pages": [scan]}]
    claimed = entity_claimed(filing({"papers": papers}, fees=rulebook("us").fees))
    assert (claimed.name, claimed.how_known) == ("micro", "by the certification in the folder, which could not be read")
