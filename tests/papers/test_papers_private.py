"""Papers and numbers that are not for the office, names of inventors, and the words that two papers share."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflight.facts import FileFacts
from preflight.papers import BUILT_IN_ROLES, Declared, agreement, find_papers, shared_words
from preflight.papers.matter.private_numbers import CARD, SOCIAL_SECURITY, check_digit_fits, kinds_in
from preflight.testing import file_facts, paper

LETTER = [
    "Dear Ms. Example,",
    "Thank you for choosing our office. This letter sets out the terms of our engagement.",
    "Our legal fees are billed monthly against the retainer of USD 900 that you have paid.",
    "Sincerely,",
]
BILL = [
    "INVOICE",
    "Invoice number 2026-17",
    "Drafting of a provisional application, 6 hours",
    "Amount due USD 1,950.00",
]
DISCLOSURE = [
    "INVENTION DISCLOSURE FORM",
    "Inventors: Ada Example and Bo Muster",
    "When was the invention conceived, and who witnessed it? 3 March, C. Sampleton",
]
DESCRIPTION = [
    "INVENTION DISCLOSURE",
    "BACKGROUND",
    "Hose guides keep a hose from crushing the plants at the corner of a bed when the hose is drawn along it.",
    "They are conceived as rollers on stakes, and the known ones tip over when the hose is pulled from above.",
]


def role_of(lines: list[str]) -> str:
    file: FileFacts = file_facts({"name": "x.pdf", "pages": [{"text": lines}]})
    (found,) = find_papers((file,), BUILT_IN_ROLES, Declared())
    return found.role


@pytest.mark.parametrize(
    ("lines", "role"),
    [
        (LETTER, "engagement-letter"),
        (["FEE AGREEMENT", "You engage us to represent you before the office."], "engagement-letter"),
        (BILL, "invoice"),
        (DISCLOSURE, "invention-disclosure"),
        (["CREDIT CARD PAYMENT FORM", "Card number"], "payment-card-form"),
        (["INFORMATION DISCLOSURE STATEMENT", "US 10,123,456"], "citation-list"),
    ],
)
def test_what_is_not_for_the_office_is_known(lines: list[str], role: str) -> None:
    assert role_of(lines) == role


@pytest.mark.parametrize(
    "lines",
    [
        DESCRIPTION,
        [
            "INVOICE PRINTER WITH A FOLDING TRAY",
            "BACKGROUND",
            "Printers of invoices are known. They print the amount due.",
        ],
        ["Dear Sirs,", "Enclosed is a provisional application. The fee of USD 65 is paid.", "Sincerely,"],
        ["FEE TRANSMITTAL", "Filing fee for the application: USD 65"],
    ],
)
def test_proper_papers_are_not_taken_for_one(lines: list[str]) -> None:
    assert role_of(lines) not in {"engagement-letter", "invoice", "invention-disclosure", "payment-card-form"}


@pytest.mark.parametrize("digits", ["79927398713", "4111111111111111", "378282246310005", "5555555555554444"])
def test_the_check_digit_of_published_examples_fits(digits: str) -> None:
    """79927398713 is the usual example of ISO/IEC 7812-1; the others are published for trials. From memory."""
    assert check_digit_fits(digits)


@given(st.text("0123456789", min_size=12, max_size=18))
def test_one_of_ten_last_digits_fits_and_changing_any_one_digit_never_does(digits: str) -> None:
    fitting = [d for d in "0123456789" if check_digit_fits(digits + d)]
    assert len(fitting) == 1
    good = digits + fitting[0]
    changed = good[:3] + str((int(good[3]) + 1) % 10) + good[4:]
    assert not check_digit_fits(changed)


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("SSN 219-09-9999", (SOCIAL_SECURITY,)),
        ("219-09-99991 and 1219-09-9999", ()),
        ("4111-1111-1111-1111", (CARD,)),
        ("4111111111111111", (CARD,)),
        ("3782 822463 10005", (CARD,)),
        ("978-3-16-148410-0", ()),
        ("0.4111111111111111", ()),
        ("telephone 503-555-0123", ()),
    ],
)
def test_kinds_of_private_numbers(text: str, kinds: tuple[str, ...]) -> None:
    assert kinds_in(text) == kinds


@pytest.mark.parametrize(
    ("first", "second", "wanted"),
    [
        ("Ada Example", "EXAMPLE, Ada", "same"),
        ("Renée Muster", "Renee MUSTER", "same"),
        ("Ada B. Example", "Ada Example", "initials"),
        ("A. Example", "Ada Example", "initials"),
        ("Ada Example", "Ada Exampel", "spelling"),
        ("Ada Example", "Bo Example", "other"),
        ("Ada Example", "Cleo Sample", "other"),
    ],
)
def test_whether_two_names_are_one(first: str, second: str, wanted: str) -> None:
    assert agreement(first, second) == wanted


def test_few_words_tell_nothing_about_the_device() -> None:
    assert shared_words(paper({"pages": ["A latch."]}), paper({"pages": ["A latch."]})) is None
