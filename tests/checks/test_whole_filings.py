"""The whole US rulebook over whole filings: a proper one has no finding, one defect is one finding."""

from __future__ import annotations

from typing import Any

import pytest

from preflight.checks.built_in import CHECKS
from preflight.testing import filing, judged, requirements, rulebook

Words = dict[str, Any]
PROSE = [
    "VALVE WITH A LEVER",
    "BACKGROUND",
    "Valves with levers are known in many shapes and sizes.",
    "BRIEF DESCRIPTION OF THE DRAWINGS",
    "FIG. 1 is a side view of the valve.",
    "DETAILED DESCRIPTION",
    "The lever 12 turns about a pin 14 and moves the spring 16.",
]
SPECIFICATION: Words = {
    "role": "specification",
    "pages": [{"text": PROSE, "foot": "1"}, {"text": ["The pin is a bolt."], "foot": "2"}],
}
NO_FIGURES: Words = {"role": "specification", "pages": [{"text": [*PROSE[:3], *PROSE[5:]], "foot": "1"}]}
MANY_PARTS: Words = {
    "role": "specification",
    "pages": [{"text": [*PROSE[:3], *PROSE[5:], "Details follow in parts 10-99."], "foot": "1"}],
}
FIGURE = [4.0, 4.0, 16.0, 22.0]
CHARACTERS: list[Words] = [{"text": text, "at": [6.0 + at, 8.0 + 3 * at]} for at, text in enumerate(("12", "14", "16"))]
LABELS = ("FIG. 1", "FIG. 1 (continued)")


def sheets(*numbers: str, **page: Any) -> Words:
    """Two sheets of one view with all its reference characters."""
    pages = [
        {
            "sheet_number": number,
            "marks": [FIGURE],
            "text": [*CHARACTERS, {"text": label, "at": [9.0, 20.0], "size": 24}],
        }
        for number, label in zip(numbers, LABELS, strict=True)
    ]
    return {"role": "drawings", "pages": [one | page for one in pages]}


DRAWINGS = sheets("1/2", "2/2")


def revised(characters: str, file: str = "drawings.pdf") -> Words:
    """Two sheets with the same characters in the same places, but for the last ones."""
    every = [*(str(number) for number in range(20, 56, 2)), *characters.split()]
    text = [{"text": said, "at": [4.5 + at % 6 * 1.8, 5.0 + at // 6 * 3]} for at, said in enumerate(every)]
    pages = [{"sheet_number": f"{n}/2", "marks": [FIGURE], "text": text} for n in (1, 2)]
    return {"role": "drawings", "file": file, "pages": pages}


def cover(tick: str = "", total: str = "", title: str = "Valve with a Lever", inventors: int = 1) -> Words:
    names = ["Ada Example, Portland, Oregon", "Bo Muster, Salem, Oregon"][:inventors]
    lines = [
        "PROVISIONAL APPLICATION FOR PATENT COVER SHEET",
        f"Title of the invention: {title}",
        *(f"Inventor: {name}" for name in names),
        "Docket number: DEMO-001",
        f"[{'X' if tick == 'small' else ' '}] Applicant asserts small entity status",
        f"[{'X' if tick == 'micro' else ' '}] Applicant certifies micro entity status",
        *([f"Total fee: {total}"] if total else []),
    ]
    return {"role": "cover-sheet", "pages": [{"text": lines}]}


def certification(title: str = "Valve with a Lever", signer: str = "Ada Example", file: str = "micro.pdf") -> Words:
    lines = [
        "CERTIFICATION OF MICRO ENTITY STATUS (GROSS INCOME BASIS)",
        "First named inventor: Ada Example",
        f"Title of invention: {title}",
        f"Signature: /{signer}/" if signer else "Signature:",
        f"Name: {signer}" if signer else "Name:",
    ]
    return {"role": "entity-certification", "file": file, "pages": [{"text": lines}]}


DATA_SHEET: Words = {
    "role": "application-data-sheet",
    "pages": [
        "Application Data Sheet 37 CFR 1.76\nApplication type: Provisional\nTitle of the invention: Valve with a Lever"
    ],
}


def letter(micro: str = "not claimed", signature: str = "/Cleo Sampleton/") -> Words:
    lines = [
        "Commissioner for Patents",
        "Enclosed is a provisional patent application.",
        f"Micro entity status is {micro}.",
        "Respectfully submitted,",
        *([signature] if signature else []),
        "Cleo Sampleton",
        "Reg. No. 99,999",
    ]
    return {"role": "letter", "pages": [{"text": lines}]}


SCANNED: Words = {"pictures": [{"box": [0.0, 0.0, 21.59, 27.94]}], "ink": [2.6, 2.6, 19.0, 25.0]}

PROPER: dict[str, Words] = {
    "specification without figures, cover sheet": {"papers": [NO_FIGURES, cover()]},
    "specification, drawings, cover sheet, full fee": {"papers": [SPECIFICATION, DRAWINGS, cover("", "$325")]},
    "small fee, ticked": {"papers": [SPECIFICATION, DRAWINGS, cover("small", "$130")]},
    "small fee without a tick": {"papers": [SPECIFICATION, DRAWINGS, cover("", "$130")]},
    "micro fee with a signed certification": {
        "papers": [SPECIFICATION, DRAWINGS, cover("micro", "$65"), certification()]
    },
    "data sheet in place of the form": {"papers": [SPECIFICATION, DRAWINGS, DATA_SHEET]},
    "letter in place of the form": {"papers": [SPECIFICATION, DRAWINGS, letter()]},
    "cover sheet and data sheet": {"papers": [SPECIFICATION, DRAWINGS, cover(), DATA_SHEET]},
    "Letter text with A4 drawings": {
        "papers": [
            SPECIFICATION,
            {
                "role": "drawings",
                "pages": [{"sheet": "A4", "sheet_number": "1/1", "marks": [FIGURE], "text": CHARACTERS}],
            },
            cover(),
        ]
    },
    "a sheet turned with its top at the right": {
        "papers": [
            SPECIFICATION,
            {
                "role": "drawings",
                "pages": [
                    {
                        "wide": True,
                        "marks": [[3.0, 4.0, 23.0, 18.0]],
                        "text": [{"text": "1/1", "at": [24.5, 10.0], "turned": 90, "size": 16}, *CHARACTERS],
                    }
                ],
            },
            cover(),
        ]
    },
    "a single sheet without a number": {
        "papers": [
            SPECIFICATION,
            {"role": "drawings", "pages": [{"marks": [FIGURE], "text": CHARACTERS}]},
            cover(),
        ]
    },
    "claims and abstract numbered on": {
        "papers": [
            SPECIFICATION,
            {"role": "claims", "pages": [{"text": ["CLAIMS", "1. A valve with a lever."], "foot": "3"}]},
            {"role": "abstract", "pages": [{"text": ["ABSTRACT", "A lever moves a spring."], "foot": "4"}]},
            DRAWINGS,
            cover(),
        ]
    },
    "everything in one file": {
        "papers": [
            {**cover(), "file": "all.pdf"},
            {**SPECIFICATION, "file": "all.pdf"},
            {**DRAWINGS, "file": "all.pdf"},
        ]
    },
    "two inventors with a certification each": {
        "papers": [
            SPECIFICATION,
            DRAWINGS,
            cover("micro", "$65", inventors=2),
            certification(file="micro-1.pdf"),
            certification(signer="Bo Muster", file="micro-2.pdf"),
        ]
    },
    "docket number in the header of every page": {
        "papers": [
            {**SPECIFICATION, "page": {"head": "DEMO-001"}},
            sheets("1/2", "2/2", head="DEMO-001"),
            cover(),
        ]
    },
    "system and lock files beside the papers": {
        "papers": [SPECIFICATION, DRAWINGS, cover()],
        "left_out": [{"name": ".DS_Store", "left_out": "system file", "harmless": True}],
    },
}
"""Filings that nobody may find fault with."""

ONE_DEFECT: dict[str, tuple[Words, str]] = {
    "bracket in front of a file name": (
        {"papers": [{**NO_FIGURES, "file": "[1]spec.pdf"}, cover()]},
        "us.name.characters",
    ),
    "locked with a password": (
        {
            "papers": [NO_FIGURES, cover()],
            "files": [
                {
                    "name": "appendix.pdf",
                    "unread": "it needs a password",
                    "structure": {"encrypted": True, "opens_without_password": False},
                }
            ],
        },
        "us.pdf.encrypted",
    ),
    "not a PDF at all": (
        {
            "papers": [NO_FIGURES, cover()],
            "files": [{"name": "appendix.pdf", "media_type": "image/jpeg", "structure": False, "pages": 0}],
        },
        "us.pdf.valid",
    ),
    "does not open": (
        {
            "papers": [NO_FIGURES, cover()],
            "files": [{"name": "appendix.pdf", "unread": "it could not be opened"}],
        },
        "us.pdf.valid",
    ),
    "drawings on Legal paper": (
        {
            "papers": [
                SPECIFICATION,
                {
                    "role": "drawings",
                    "pages": [
                        {
                            "sheet": [21.59, 35.56],
                            "sheet_number": "1/1",
                            "marks": [[1.0, 4.0, 20.0, 34.0]],
                            "text": CHARACTERS,
                        }
                    ],
                },
                cover(),
            ]
        },
        "us.pdf.page-size",
    ),
    "a colour photograph": (
        {
            "papers": [
                SPECIFICATION,
                {
                    "role": "drawings",
                    "pages": [
                        {
                            "sheet_number": "1/1",
                            "marks": [FIGURE],
                            "text": CHARACTERS,
                            "colour": 0.3,
                            "tone": {"share": 0.35, "levels": 200},
                        }
                    ],
                },
                cover(),
            ]
        },
        "us.drawing.photo",
    ),
    "no cover sheet": ({"papers": [SPECIFICATION, DRAWINGS]}, "us.prov.cover"),
    "no drawings": ({"papers": [SPECIFICATION, cover()]}, "us.drawing.needed"),
    "micro fee without a certification": (
        {"papers": [SPECIFICATION, DRAWINGS, cover("micro", "$65")]},
        "us.micro.form",
    ),
    "certification not signed": (
        {"papers": [SPECIFICATION, DRAWINGS, cover("micro", "$65"), certification(signer="")]},
        "us.micro.form",
    ),
    "signed by one of two inventors": (
        {"papers": [SPECIFICATION, DRAWINGS, cover("micro", "$65", inventors=2), certification()]},
        "us.micro.signer",
    ),
    "the second of two inventors has not signed": (
        {
            "papers": [
                SPECIFICATION,
                DRAWINGS,
                cover("micro", "$65", inventors=2),
                certification(),
                certification(signer="", file="micro-2.pdf"),
            ]
        },
        "us.micro.signer",
    ),
    "certification of the other basis than the letter says": (
        {"papers": [NO_FIGURES, letter("certified on form PTO/SB/15B, enclosed"), certification()]},
        "us.micro.institution",
    ),
    "letter in place of the form, not signed": (
        {"papers": [NO_FIGURES, letter("not claimed", signature="")]},
        "us.sign.hand",
    ),
    "signer with a slip of the keyboard": (
        {"papers": [SPECIFICATION, DRAWINGS, cover("micro", "$65"), certification(signer="Ada Exampel")]},
        "us.practice.names",
    ),
    "certification of another matter": (
        {"papers": [SPECIFICATION, DRAWINGS, cover("micro", "$65"), certification(title="Bread knife")]},
        "us.practice.wrong-client",
    ),
    "fee of an older schedule": (
        {"papers": [SPECIFICATION, DRAWINGS, cover("micro", "$60"), certification()]},
        "us.fee.amount",
    ),
    "nobody's fee": ({"papers": [SPECIFICATION, DRAWINGS, cover("", "$77")]}, "us.fee.amount"),
    "the drawings are a copy of the specification": (
        {"papers": [{**NO_FIGURES, "sha256": "aa"}, {**NO_FIGURES, "file": "drawings.pdf", "sha256": "aa"}, cover()]},
        "us.practice.identical-files",
    ),
    "two versions of the specification": (
        {
            "papers": [
                {
                    **NO_FIGURES,
                    "pages": [{"text": [*PROSE[:3], *PROSE[5:], "The pin is a bolt of steel."], "foot": "1"}],
                },
                {
                    **NO_FIGURES,
                    "file": "spec-old.pdf",
                    "pages": [{"text": [*PROSE[:3], *PROSE[5:], "The pin is a rod of steel."], "foot": "1"}],
                },
                cover(),
            ]
        },
        "us.practice.one-version",
    ),
    "two versions of the drawings": (
        {"papers": [MANY_PARTS, revised("10 12 14"), revised("10 12 14 16", file="drawings-rev.pdf"), cover()]},
        "us.practice.one-version",
    ),
    "one page of the text is missing": (
        {
            "papers": [
                {
                    "role": "specification",
                    "pages": [
                        {"text": NO_FIGURES["pages"][0]["text"], "foot": "1"},
                        {"text": ["The cover is a plate."], "foot": "3"},
                    ],
                },
                cover(),
            ]
        },
        "us.text.page-numbers",
    ),
    "two pages in the wrong order": (
        {
            "papers": [
                {
                    "role": "specification",
                    "pages": [
                        {"text": NO_FIGURES["pages"][0]["text"], "foot": "1"},
                        {"text": ["The cover is a plate."], "foot": "3"},
                        {"text": ["The pin is a bolt."], "foot": "2"},
                        {"text": ["The frame is a tube."], "foot": "4"},
                    ],
                },
                cover(),
            ]
        },
        "us.text.page-numbers",
    ),
    "the last sheet of the drawings is missing": (
        {"papers": [SPECIFICATION, sheets("1/3", "2/3"), cover()]},
        "us.drawing.sheet-number",
    ),
}
"""Filings with one defect, and the requirement that speaks of it; none else may."""


OF_SHORT_PAPERS = {
    "us.practice.short-description": "the papers here have a few lines each",
    "us.text.summary": "for the later application only",
    "us.text.abstract": "for the later application only",
    "us.text.claims-optional": "for the later application only",
}
"""Requirements that are broken by the papers of these tests, and rightly so."""


def found(words: Words) -> list[str]:
    """Each finding in a word: its requirement, how grave it is, what it says."""
    verdict = judged(filing(words, fees=rulebook("us").fees), requirements("us"), CHECKS)
    every = (*verdict.findings, *verdict.for_later)
    told = [f for f in every if f.requirement.id not in OF_SHORT_PAPERS or f.state == "unread"]
    return [f"{f.requirement.id} {f.filing} {f.state} {f.outcome}" for f in told]


def test_a_scanned_specification_is_advice_and_one_thing_unread() -> None:
    """What stands on it is unknown: never met, never broken."""
    got = found({"papers": [{"role": "specification", "pages": [SCANNED]}, cover()]})
    assert [line.split(" ")[:3] for line in got] == [
        ["us.drawing.figures-described", "notice", "unread"],
        ["us.practice.scan", "advice", "broken"],
    ]


@pytest.mark.parametrize("words", PROPER.values(), ids=PROPER.keys())
def test_a_proper_filing_has_no_finding(words: Words) -> None:
    assert found(words) == []


@pytest.mark.parametrize(("words", "speaks"), ONE_DEFECT.values(), ids=ONE_DEFECT.keys())
def test_one_defect_is_one_finding(words: Words, speaks: str) -> None:
    got = found(words)
    assert [line.split(" ")[0] for line in got] == [speaks], "\n".join(got)
