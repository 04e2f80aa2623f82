"""By what a page shows that it is a paper of the office or the client that does not belong into a filing."""

from __future__ import annotations

import re

from preflight.facts import FileFacts, Page
from preflight.papers.model import Sign
from preflight.papers.roles.form_numbers import describes, form, whole_text

_TERMS = (
    r"terms of (?:our|this|the) (?:engagement|representation)",
    r"scope of (?:our|this|the) (?:engagement|representation|services)",
    r"engage(?:ment of|d)? (?:our|the|this) (?:firm|office)",
    r"retainer",
    r"hourly rates?",
    r"(?:legal|our|flat) fees?",
    r"conflicts? of interest",
    r"represent(?:ing|ation of)? you",
    r"trust account",
    r"privileged",
)
"""What letters of engagement speak of; two of them make one. House value."""
LEAST_TERMS = 2

_engagement_heading = form(
    (),
    r"^(?:re )?(?:legal |attorney )?(?:engagement|retainer|representation|fee) (?:letter|agreement)(?: .*)?$",
    needs=r"\b(?:retainer|engage|engaged|engagement|represent|representation|hourly)\b",
)
invoice_sign = form(
    (),
    r"^(?:tax |interim |final |pro forma )*(?:invoice|statement of account|bill for services)"
    r"(?: (?:no|number|for|dated?|to)\b.*)?$",
    needs=r"\b(?:(?:amount|balance|total) due|payable|due date|remit(?:tance)?|invoice (?:no|number|date)|services)\b",
)
disclosure_form_sign = form(
    (),
    r"^(?:(?:confidential|employee|inventors?) )*invention (?:disclosure|record)"
    r"(?: (?:form|statement|record|questionnaire|sheet))?$",
    every_page=False,
    needs=r"\b(?:conceived|conception|witness(?:ed)?|date of invention|public disclosures?|funding)\b",
)
citation_list_sign = form(
    (r"SB/0?8[AB]?",),
    r"^(?:information disclosure statement.*|list of (?:references|documents|art) cited.*)$",
)
card_form_sign = form((r"2038",), r"^credit card payment form(?: .*)?$|^credit card authori[sz]ation(?: .*)?$")


def engagement_sign(file: FileFacts, page: Page) -> Sign | None:
    """A heading or subject line that says so, or several terms that only letters of engagement hold."""
    if found := _engagement_heading(file, page):
        return found
    text = whole_text(page)
    terms = [term for term in _TERMS if re.search(rf"\b(?:{term})\b", text)]
    greets = re.search(r"\bdear\b", text)
    if greets and len(terms) >= LEAST_TERMS and not describes(file, page):
        return Sign(0.85, f"terms of a letter of engagement on page {page.number}")
    return None
