"""Typed signatures, against the office's leaflet and rule.

S1-S13 and the derived examples: RULES-us-filing 2a, "S-signature examples" (rules effective 21 Sept 2004) and 37 CFR
1.4(d)(2)(i); names are invented. Script fonts and lines under a signature cannot be told from text: S3, S4 and S9
read as
S1 and S8.
"""

from __future__ import annotations

from typing import Any

import pytest

from preflight.papers import Paper, signing
from preflight.testing import paper


def sheet(*lines: str | dict[str, Any], **more: Any) -> Paper:
    text = [{"text": one, "at": [2.5, 20 + n]} if isinstance(one, str) else one for n, one in enumerate(lines)]
    head = {"text": "CERTIFICATION OF MICRO ENTITY STATUS", "at": [6, 2.5]}
    return paper({"role": "entity-certification", "pages": [{"text": [head, *text], **more}]})


def beside(label: str, value: str, top: float) -> list[dict[str, Any]]:
    return [{"text": label, "at": [2.5, top]}, {"text": value, "at": [9, top]}]


@pytest.mark.parametrize(
    "lines",
    [
        ("Signature: /Ada Example/", "Name: Ada Example"),  # S1, S3, S4
        ("/Ada Example/", "Ada Example"),  # S1
        ("/ Ada Example /", "Ada Example"),  # S2
        ("/Ada Example/", "Ada Example, inventor"),  # how it is set: from memory
        ("/Ada Example/", "Ada Example (co-inventor)"),  # the same
        ("/Ada Example/", "Ada Example, attorney of record, Reg. No. 99,999"),  # the same
        ("Ada Example", "/Ada Example/"),  # S5
        ("/Ada Example/ Ada Example",),  # S6
        ("/Ada Exampel/", "Ada Example"),  # S7
        ("/Dr. Ada M. Example, III/", "Dr. Ada M. Example, III"),  # S13
        ("/a.e./", "Ada Example"),  # derived; K90
        ("/1234/", "Ada Example"),  # derived
        ("/D'Example-Muster/", "Ada D'Example-Muster"),  # derived
        ("/Ada Example/ Reg. No. 99,999", "Ada Example"),  # a registration number after the slash is not flagged
        ("Signature /Ada Example/ Date 2026-11-20", "Name Ada Example"),
    ],
)
def test_signed(lines: tuple[str, ...]) -> None:
    assert signing(sheet(*lines)).signed is True


@pytest.mark.parametrize(
    ("lines", "fault"),
    [
        (("Ada Example", "Ada Example"), None),  # S8, S9
        (("//Ada Example//", "Ada Example"), "slashes"),  # S10
        (("/Ada Example/",), "name"),  # S11
        (("/\u263a/", "Ada Example"), "characters"),  # S12
        (("/A_1/", "Ada Example"), "characters"),  # derived; K90
        (("/A@x/", "Ada Example"), "characters"),  # derived
        (("\\Ada Example\\", "Ada Example"), None),  # derived
        (("/Ada Example", "Ada Example"), "slashes"),  # derived
        (("//", "Ada Example"), "empty"),  # derived
        (("/Ada (agent)/", "Ada Example"), "characters"),  # derived
        (("/Ada*/", "Ada Example"), "characters"),  # derived
        (("Signature:", "Name: Ada Example"), None),
    ],
)
def test_unsigned(lines: tuple[str, ...], fault: str | None) -> None:
    found = signing(sheet(*lines))
    assert found.signed is False
    assert [one.fault for one in found.signatures] == ([fault] if fault else [])
    assert found.why


def test_a_number_sign_only_before_a_registration_number() -> None:
    assert signing(sheet("/Ada Example #99,999/", "Ada Example")).signed is True  # us.sign.s-number
    assert signing(sheet("/Ada Example #/", "Ada Example")).signed is False


@pytest.mark.parametrize("text", ["11/20/2026", "and/or", "https://example.com/a/b", "PTO/SB/15A (07-14)", "1/3"])
def test_slashes_that_sign_nothing(text: str) -> None:
    assert signing(sheet(text, "Ada Example")).signatures == ()


def test_a_mark_of_signing_software_needs_an_eye() -> None:
    # K89: 37 CFR 1.4(d)(4), 89 FR 20321: by hand, not failed
    found = signing(sheet("Ada Example", "Ada Example", "Electronically signed 2026-11-20"))
    assert found.signed is None


def test_ink_or_a_picture_at_the_line_needs_an_eye() -> None:
    # us.sign.graphic: image or ink on the signature line = signed by hand
    lines = beside("Signature", "", 20)[:1]
    assert signing(sheet(*lines, scrawls=[[5.5, 19.3, 9, 20.4]])).signed is None
    assert signing(sheet(*lines, pictures=[{"box": [5.5, 19.3, 9, 20.4]}])).signed is None
    assert signing(sheet(*lines, scrawls=[[5.5, 5, 9, 6]])).signed is False


def test_a_scan_is_neither_signed_nor_unsigned() -> None:
    assert signing(paper({"role": "entity-certification", "pages": [{"ink": [2, 2, 19, 26]}]})).signed is None


def test_a_form_field_is_read() -> None:
    fields = [
        {"name": "Signature", "value": "/Ada Example/", "box": [8, 20, 14, 20.5]},
        {"name": "Name", "value": "Ada Example", "box": [8, 21, 14, 21.5]},
    ]
    head = [{"text": "CERTIFICATION OF MICRO ENTITY STATUS", "at": [6, 2.5]}]
    said = {"role": "entity-certification", "pages": [{"text": head}], "fields": fields}
    assert signing(paper(said)).signed is True
    empty = [{**fields[0], "value": None}, fields[1]]
    assert signing(paper({**said, "fields": empty})).signed is False


def test_the_registration_number_stands_beside_or_below() -> None:
    (one,) = signing(sheet("/Ada Example/", "Ada Example", "Reg. No. 99,999")).signatures
    assert one.registration == "99,999"


@pytest.mark.parametrize(
    "lines",
    [
        ("Name: Bo Muster", "President"),
        ("Name: Bo Muster, CEO",),
        ("Name: Bo Muster", "Chief Executive Officer, Sample Valves Inc."),
        ("Name: Bo Muster, Managing Director, Sample Valves GmbH",),
    ],
)
def test_an_office_is_no_part_of_the_name(lines: tuple[str, ...]) -> None:
    (one,) = signing(sheet("Signature: /Bo Muster/", *lines)).signatures
    assert one.name
    assert one.name.value == "Bo Muster"


def test_the_name_over_its_own_label_is_no_signature_without_slashes() -> None:
    """Forms with labels under their lines, common practice: the line for the signature is empty."""
    lines = ("Signature", "Ada Example", "Name (printed)")
    found = signing(sheet(*({"text": text, "at": [2.5, 20 + 0.6 * n]} for n, text in enumerate(lines))))
    assert (found.kind, found.signed) == ("nothing", False)
    assert found.place
    assert found.place.value == "Signature"
