"""By what a page shows that it is a form, a cover sheet or a letter."""

from __future__ import annotations

import re

from preflight.facts import FileFacts, Page
from preflight.papers.model import Sign
from preflight.papers.roles.form_numbers import form, whole_text
from preflight.papers.words.headings import sections
from preflight.papers.words.lettering import keyed, prose_words, words
from preflight.papers.words.rows import rows_of

COVER_PROSE = 150
"""A cover sheet has fewer words in running lines than this. House value."""
GREETING_WORDS = 8
"""A line of salutation has at most so many words. House value."""

_COVER_LABELS = (
    r"inventors?",
    r"residence",
    r"city",
    r"title of (?:the )?invention",
    r"correspondence address|customer number",
    r"docket (?:no|number)",
    r"entity",
    r"government",
    r"enclosed|application parts",
)
_cover_form = form(
    (r"SB/0?16",),
    r"\b(?:non)?provisional.*\bcover (?:sheet|page)\b|\bcover (?:sheet|page)\b.*\bprovisional"
    r"|^(?:(?:united states |us )?(?:patent )?application )?(?:for patent )?cover sheet$|^patent application cover",
    refuse=r"\b(?:fax|facsimile|recordation|transmission|telefax)\b",
)

certification_sign = form(
    (r"SB/0?15[AB]",),
    r"^certifications? (?:of|for|regarding) micro ?entity|^(?:statement|certificate) of micro ?entity"
    r"|^micro ?entity (?:status )?(?:certification|statement|form)",
    every_page=False,
)
data_sheet_sign = form(
    (r"AIA/14", r"SB/14"), r"^(?:(?:web|web based|corrected|the) )*application data sheet(?: 37 cfr.*)?$"
)
fee_sign = form(
    (r"SB/17[A-Z]?", r"SB/0?6"),
    r"^(?:provisional )?(?:patent )?(?:application )?fee (?:transmittal|worksheet|sheet|calculation|determination)",
    needs=r"\b(?:filing|application|cfr|deposit account)\b",
)
assignment_sign = form(
    (r"1595", r"AIA/96", r"SB/96"),
    r"^(?:(?:patent|invention|worldwide|joint|executed|confirmatory|combined declaration and) )*assignment"
    r"(?: (?:of|agreement|for|and) ?.*)?$|^recordation form cover sheet|^assignee showing of ownership",
    every_page=False,
    needs=r"\bassign(?:or|ors|ee|ees|s|ed|ing)?\b.*\b(?:undersigned|assignee|right title|invention|inventors?)\b",
)
power_sign = form(
    (r"AIA/8[0-4][ABC]?", r"SB/8[0-4][ABC]?"),
    r"^(?:(?:general|limited|revocation and new|transmittal for|revocation of|new|the) )*"
    r"powers? (?:of attorney|to inspect)",
    every_page=False,
)
declaration_sign = form(
    (r"AIA/0?[1-9]", r"SB/0?[1-4][AB]?"),
    r"^(?:(?:inventors?|inventor s|inventors s|combined|joint|substitute|oath or) )*"
    r"(?:declaration|oath|substitute statement)(?: (?:for|of|under|and|by|37|oath|in) ?.*)?$",
    every_page=False,
    needs=r"\b(?:declare|inventor|sworn|undersigned|hereby)\b",
)
receipt_sign = form((), r"^(?:electronic |patent center |efs web )*acknowledge?ment receipt")
other_sign = form(
    (),
    r"^(?:(?:electronic )?payment receipt|(?:official )?filing receipt"
    r"|(?:fax|facsimile) cover (?:sheet|page)|(?:fax|facsimile) transmission.*)$",
)

_ADDRESS = re.compile(r"\bcommissioner (?:for|of) patents\b|\bp ?o box 1450\b|\bpatent and trademark office\b")
_CLOSE = re.compile(
    r"^(?:very truly yours|yours (?:very )?(?:truly|sincerely|faithfully)|sincerely(?: yours)?"
    r"|respectfully(?: (?:submitted|yours))?|(?:kind|best|with kind) regards|regards)$"
)
_SUBMITS = re.compile(r"\b(?:enclosed|herewith|attached|submits?|submitted|please find|for filing|transmit(?:ted)?)\b")
_letter_heading = form(
    (r"SB/0?5", r"SB/21", r"AIA/15"),
    r"^(?:letter of transmittal|cover letter|transmittal (?:of|for|letter) .*"
    r"|(?:(?:patent|utility|provisional|new) )*(?:application )?transmittal(?: (?:letter|form|sheet|of .*))?)$",
    refuse=r"\bfee\b",
)


def cover_sign(file: FileFacts, page: Page) -> Sign | None:
    """The office's form, a cover sheet by its heading, or a page with the labels that only cover sheets have."""
    found = _cover_form(file, page)
    if found and (found.how.startswith("form number") or prose_words(page) <= COVER_PROSE):
        return found
    text = " ".join([whole_text(page), *_field_words(file, page)])
    if "provisional" not in text or sections(file, page) or prose_words(page) > COVER_PROSE or _greets(page):
        return None
    labels = [label for label in _COVER_LABELS if re.search(rf"\b(?:{label})\b", text)]
    if len(labels) >= 4 and re.search(r"\b(?:residence|correspondence address)\b", text):
        return Sign(0.7, f"labels of a cover sheet on page {page.number}")
    return None


def _field_words(file: FileFacts, page: Page) -> list[str]:
    fields = file.structure.fields if file.structure else ()
    return [keyed(f"{field.name} {field.label}") for field in fields if field.page == page.number]


def _greets(page: Page) -> bool:
    return any(
        re.match(r"^(?:dear|to whom it may concern|sirs?|madam|ladies and gentlemen)\b", keyed(row.text))
        for row in rows_of(page)
        if len(words(row.text)) <= GREETING_WORDS
    )


def _closes(page: Page) -> bool:
    return any(_CLOSE.match(keyed(row.text)) for row in rows_of(page))


def is_correspondence(page: Page) -> bool:
    """Whether the page greets and takes leave: a letter, to whomever."""
    return _greets(page) and _closes(page)


def letter_sign(file: FileFacts, page: Page) -> Sign | None:
    """A transmittal by its heading; a letter by salutation, address or close, where it sends something."""
    found = _letter_heading(file, page)
    if found:
        return found
    every = [keyed(row.text) for row in rows_of(page)]
    greets, closes = _greets(page), _closes(page)
    addressed = any(_ADDRESS.search(text) for text in every)
    if greets and (addressed or (closes and _SUBMITS.search(whole_text(page)))) and not sections(file, page):
        return Sign(0.8, f"salutation of a letter on page {page.number}")
    if addressed and closes and not sections(file, page):
        return Sign(0.6, f"address and close of a letter on page {page.number}")
    return None
