"""Cover sheet and micro entity certification: look-alikes in words of our own."""

from dataclasses import dataclass
from html import escape
from pathlib import Path
from typing import Final

import matter as m
from browser import print_page

TICKED: Final = "\u2612"
UNTICKED: Final = "\u2610"

PROVISIONAL_HEADING: Final = "Provisional Application for Patent: Cover Sheet"
PROVISIONAL_STATEMENT: Final = (
    "The papers listed below are filed together as a provisional application (37 CFR 1.53(c))."
)
BARE_HEADING: Final = "Application Cover Sheet"
BARE_STATEMENT: Final = "The papers listed below are filed together."

ENTITIES: Final = {
    "undiscounted": "Undiscounted fees",
    "small": "Small entity (37 CFR 1.27)",
    "micro": "Micro entity (37 CFR 1.29)",
}


@dataclass(frozen=True)
class Cover:
    """What a cover sheet says; `fee` in US dollars."""

    specification_pages: int
    entity: str = "micro"
    fee: str = "65.00"
    heading: str = PROVISIONAL_HEADING
    statement: str = PROVISIONAL_STATEMENT
    matter: m.Matter = m.GUIDE
    signature: str | None = None
    """What stands on the signature line; the first inventor between slashes if None."""
    signer: str | None = None
    """Who signs; the first inventor if None."""

    @property
    def inventors(self) -> tuple[tuple[str, str, str, str], ...]:
        """Rows of the table of inventors."""
        return tuple((i.given, i.family, i.city, f"{i.state}, {m.COUNTRY}") for i in self.matter.inventors)

    def details(self) -> list[tuple[str, str]]:
        """Rows of the table of the filing: name and entry."""
        return [
            ("Title of the invention", self.matter.title),
            ("Docket number", self.matter.docket),
            ("Practitioner", m.PRACTITIONER),
            ("Registration number", m.REGISTRATION),
            ("Correspondence address", ", ".join(address())),
            ("Telephone and e-mail", f"{m.PHONE}, {m.MAIL}"),
            ("Government interest", "No"),
            ("Specification, number of pages", str(self.specification_pages)),
            ("Drawings, number of sheets", str(self.matter.sheets)),
        ]

    def choices(self) -> list[tuple[str, str]]:
        """The three entity choices: tick box and words."""
        return [(TICKED if key == self.entity else UNTICKED, words) for key, words in ENTITIES.items()]

    def closing(self) -> list[tuple[str, str]]:
        """Rows of the signature block."""
        signer = self.signer or self.matter.inventors[0].name
        return [
            ("Signature", f"/{signer}/" if self.signature is None else self.signature),
            ("Name of the signer", signer),
            ("Date", m.SIGNED_ON),
        ]


INVENTOR_COLUMNS: Final = (
    "Given name",
    "Family name",
    "City of residence",
    "State or country of residence",
)


def address() -> list[str]:
    """The correspondence address, part by part."""
    return [m.PRACTITIONER, m.STREET, m.CITY, f"{m.STATE} {m.POSTCODE}", m.COUNTRY]


def footer_words(form: str) -> str:
    """The line at the foot of every look-alike form."""
    return f"invented example for demonstration, used in place of form {form}"


def print_cover(cover: Cover, target: Path, *, height_in: float = 11, zoom: float = 1) -> None:
    """Print the cover sheet on a sheet of this height."""
    body = "\n".join(
        [
            f"<h1>{escape(cover.heading)}</h1>",
            f"<p>{escape(cover.statement)}</p>",
            "<h2>Inventors</h2>",
            grid(INVENTOR_COLUMNS, cover.inventors),
            "<h2>The filing</h2>",
            rows(cover.details()),
            "<h2>Entity status</h2>",
            "".join(choice(tick, words) for tick, words in cover.choices()),
            f"<h2>Fee</h2><p>Total fee (USD): {cover.fee}</p>",
            "<h2>Signature</h2>",
            rows(cover.closing()),
            f"<footer>{footer_words('PTO/SB/16')}</footer>",
        ]
    )
    print_page(body, cover.matter.title, target, height_in=height_in, zoom=zoom)


MICRO_STATEMENTS: Final = (
    "<b>Small first.</b> I meet each condition that 37 CFR 1.27 sets for a small entity.",
    "<b>Few earlier filings.</b> I have been named as an inventor on four or fewer earlier patent "
    "applications, leaving out those that 37 CFR 1.29(a)(2) and (b) tell me to leave out.",
    "<b>Own income.</b> My gross income in the calendar year before the year of this payment was "
    "not above the limit of 37 CFR 1.29(a)(3).",
    "<b>Income of others.</b> I have not given, licensed or promised any right in this application "
    "to an entity whose gross income in that year was above the same limit "
    "(37 CFR 1.29(a)(4)).",
)


def print_micro(target: Path, signature: str = f"/{m.INVENTOR}/") -> None:
    """Print the certification of micro entity status on the basis of gross income."""
    top = [
        ("Application number", ""),
        ("Patent number", ""),
        ("First named inventor", m.INVENTOR),
        ("Title of the invention", m.TITLE),
        ("Docket number", m.DOCKET),
    ]
    closing = [
        ("Signature", signature),
        ("Name of the signer", m.INVENTOR),
        ("Date", m.SIGNED_ON),
        ("Telephone", m.PHONE),
    ]
    several = (
        "There are several inventors who apply together; I am one of them, and each of the others "
        "has signed a sheet that comes with this one."
    )
    body = "\n".join(
        [
            "<h1>Certification of Micro Entity Status<br>(Gross Income Basis)</h1>",
            '<p class="code">37 CFR 1.29(a) &nbsp; Code: MES.GIB</p>',
            rows(top),
            "<h2>What the applicant certifies</h2>",
            "<ol>" + "".join(f"<li>{words}</li>" for words in MICRO_STATEMENTS) + "</ol>",
            "<h2>Signature</h2>",
            rows(closing),
            f'<div style="margin-top: 0.4cm">{choice(UNTICKED, several)}</div>',
            f"<footer>{footer_words('PTO/SB/15A')}</footer>",
        ]
    )
    print_page(body, m.TITLE, target)


def rows(pairs: list[tuple[str, str]]) -> str:
    """A table with one name and one entry a row."""
    lines = (f'<tr><th class="side">{escape(name)}</th><td>{escape(entry)}</td></tr>' for name, entry in pairs)
    return f"<table>{''.join(lines)}</table>"


def grid(columns: tuple[str, ...], lines: tuple[tuple[str, ...], ...]) -> str:
    """A table with a head row."""
    head = "".join(f"<th>{escape(name)}</th>" for name in columns)
    body = "".join("<tr>" + "".join(f"<td>{escape(entry)}</td>" for entry in line) + "</tr>" for line in lines)
    return f"<table><tr>{head}</tr>{body}</table>"


def choice(tick: str, words: str) -> str:
    """A tick box with its words."""
    return f'<p class="choice"><span class="tick">{tick}</span> {escape(words)}</p>'
