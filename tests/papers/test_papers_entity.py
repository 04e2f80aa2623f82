"""Tick, certification and amount side by side.

The combinations: RULES-us-filing 3d; which of them are consistent is for the rulebook.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from preflight.facts.money import Fee
from preflight.papers import EntityPicture, entity_said
from preflight.testing import filing

TITLE, NAME = "Hose Clamp with Lever", "Ada Example"


def fee(kind: str, since: dt.date, undiscounted: int, small: int, micro: int) -> Fee:
    size: dict[str, Any] = {"sheets_free": 100, "sheets_each": 50, "sheet_weight": 0.75} if kind == "size" else {}
    amounts: dict[str, Any] = {"undiscounted": undiscounted, "small": small, "micro": micro}
    return Fee(id=kind, since=since, citation="37 CFR 1.16", known="read", **amounts, **size)


FEES = (  # RULES-us-filing 4
    fee("basic", dt.date(2025, 1, 19), 325, 130, 65),
    fee("size", dt.date(2025, 1, 19), 450, 180, 90),
    fee("basic", dt.date(2022, 12, 29), 300, 120, 60),
    fee("basic", dt.date(2020, 10, 2), 300, 150, 75),
)


def cover(tick: str = "", fee_line: str = "", **more: Any) -> dict[str, Any]:
    small, micro = ("X" if tick in (kind, "both") else " " for kind in ("small", "micro"))
    boxes = f"[{small}] Small entity [{micro}] Micro entity"
    lines = [
        "PROVISIONAL APPLICATION COVER SHEET",
        f"Title of the invention: {TITLE}",
        f"Inventor: {NAME}, Portland, Oregon",
        boxes,
        *([f"Total fee: {fee_line}"] if fee_line else []),
    ]
    return {"role": "cover-sheet", "pages": [{"text": lines}], **more}


def certificate(
    *, signature: str = f"/{NAME}/", title: str = TITLE, name: str = NAME, file: str = "micro.pdf"
) -> dict[str, Any]:
    lines = [
        "CERTIFICATION OF MICRO ENTITY STATUS (GROSS INCOME BASIS)",
        f"First named inventor: {name}",
        f"Title of invention: {title}",
        f"Signature: {signature}",
        f"Name: {name}",
    ]
    return {"role": "entity-certification", "file": file, "pages": [{"text": lines}]}


def said(*papers: dict[str, Any], **more: Any) -> EntityPicture:
    return entity_said(filing({"papers": papers, **more}, fees=FEES))


def three(picture: EntityPicture) -> tuple[str, str, str]:
    return picture.tick, picture.certification, picture.amount


@pytest.mark.parametrize(
    ("papers", "expected"),
    [  # rows of 3d
        ([cover("", "325.00")], ("none", "none", "undiscounted")),
        ([cover("small", "130.00")], ("small", "none", "small")),
        ([cover("", "$130")], ("none", "none", "small")),
        ([cover("micro", "65.00"), certificate()], ("micro", "signed", "micro")),
        ([cover("small", "65"), certificate()], ("small", "signed", "micro")),
        ([cover("", "65"), certificate()], ("none", "signed", "micro")),
        ([cover("micro", "65")], ("micro", "none", "micro")),
        ([cover("micro", "65"), certificate(signature="")], ("micro", "unsigned", "micro")),
        ([cover("micro", "130"), certificate()], ("micro", "signed", "small")),
        ([cover("both", "65")], ("both", "none", "micro")),
        ([cover("micro", "65"), certificate(title="Folding Boot Rack")], ("micro", "other matter", "micro")),
        ([cover("micro", "65"), certificate(name="Cleo Muster")], ("micro", "other matter", "micro")),
        ([cover("small", "120")], ("small", "none", "older schedule")),
        ([cover("small", "99")], ("small", "none", "nobody's")),
        ([cover("small")], ("small", "none", "not stated")),
    ],
)
def test_the_three_answers(papers: list[dict[str, Any]], expected: tuple[str, str, str]) -> None:
    assert three(said(*papers)) == expected


def test_an_older_amount_names_the_rows_that_it_fits() -> None:
    (amount,) = said(cover("small", "150")).amounts
    assert [(str(row.since), row.entity) for row in amount.older] == [("2020-10-02", "small")]
    (amount,) = said(cover("", "300")).amounts
    assert [(str(row.since), row.entity) for row in amount.older] == [
        ("2022-12-29", "undiscounted"),
        ("2020-10-02", "undiscounted"),
    ]


def test_with_and_without_the_size_fee() -> None:
    # K63: micro, 201 sheets, 65 + 2 x 90 = 245
    text = {"role": "specification", "pages": 201}
    whole, part = said(cover("micro", "245"), text), said(cover("micro", "65"), text)
    assert [(a.kind, a.with_size) for a in (*whole.amounts, *part.amounts)] == [("micro", True), ("micro", False)]


def test_what_is_declared_comes_first_and_what_is_printed_stays() -> None:
    picture = said(cover("micro", "65"), declared={"entity": "small", "fee_paid": 130})
    assert (picture.amount, picture.declared) == ("small", "small")
    assert [amount.dollars for amount in picture.amounts] == [130, 65]
    assert [place.file for place in picture.contradicts_declared] == ["cover-sheet.pdf", "cover-sheet.pdf"]


def test_what_agrees_contradicts_nothing() -> None:
    assert said(cover("small", "130"), declared={"entity": "small", "fee_paid": 130}).contradicts_declared == ()


def test_one_signed_sheet_among_several() -> None:
    picture = said(cover("micro", "65"), certificate(), certificate(signature="", file="second.pdf"))
    assert picture.certification == "signed"
    assert [one.signing.signed for one in picture.certifications] == [True, False]


def test_joint_inventors_sign_a_sheet_each() -> None:
    # us.micro.signer, MPEP 509.04(c): each on a separate copy; K92: one of two is too few
    both = cover("micro", "65")
    both["pages"][0]["text"][2] = f"Inventors: {NAME}, Portland, Oregon; Ben Sample, Salem, Oregon"
    second = certificate(name="Ben Sample", signature="/Ben Sample/", file="second.pdf")
    assert said(both, certificate(), second).certification == "signed"
    assert said(both, second).certification == "short"


def test_what_cannot_be_read_is_unreadable_and_not_missing() -> None:
    scan = [{"ink": [2, 2, 19, 26]}]
    assert three(said({"role": "cover-sheet", "pages": scan})) == ("unreadable", "none", "unreadable")
    assert said(cover("micro", "65"), {"role": "entity-certification", "pages": scan}).certification == "unreadable"
    assert said(cover("micro", "65"), {"role": "unknown", "pages": scan}).certification == "unreadable"


def test_drawn_boxes_are_unreadable() -> None:
    sheet = cover("", "65")
    sheet["pages"][0]["text"][3:4] = [
        "Applicant asserts small entity status.",
        "Applicant certifies micro entity status.",
    ]
    assert said(sheet).tick == "unreadable"


def test_a_letter_that_serves_as_cover_sheet_speaks_too() -> None:
    letter = {
        "role": "letter",
        "pages": [
            {
                "text": [
                    "Dear Sir:",
                    "Enclosed is a provisional application.",
                    "Applicant asserts small entity status. The fee of $130 is paid.",
                ]
            }
        ],
    }
    assert three(said(letter)) == ("small", "none", "small")


def test_nothing_there_says_nothing() -> None:
    assert three(said({"role": "specification", "pages": 3})) == ("none", "none", "not stated")
