"""Which part of a specification a heading opens, in any usual wording and case, alone or run in before its text."""

from __future__ import annotations

import re
from typing import Literal

from preflight.papers.roles.text_roles import ABSTRACT_HEADING, CLAIMS_HEADING
from preflight.papers.words.headings import HEADING_WORDS, is_heading
from preflight.papers.words.lettering import keyed, words

Part = Literal[
    "cross-reference",
    "government",
    "joint research",
    "text files",
    "prior disclosures",
    "field",
    "background",
    "summary",
    "figures",
    "description",
    "claims",
    "abstract",
    "sequences",
]
"""The parts in the order that 37 CFR 1.77(b) gives; the field belongs to the background there."""
BEFORE_THE_FIELD = ("cross-reference", "government", "joint research", "text files", "prior disclosures", "sequences")
"""Parts that may follow the title at once."""

_NUMBER = re.compile(r"^(?:section |part )?(?:\d{1,2}|[ivx]{1,4}|[a-h]) (?=\w{3})")
_PARTS: tuple[tuple[Part, str], ...] = (
    ("joint research", r"(?:the )?names? of (?:the )?parties to a joint research agreement|joint research.*"),
    (
        "text files",
        r"(?:incorporation by reference of )?(?:the )?material submitted on .*|reference to (?:a |an |the )?"
        r"(?:sequence listing|appendix|electronic|computer|xml|text|ascii|compact).*|incorporation by reference.*",
    ),
    (
        "cross-reference",
        r"(?:cross|reference|references|relation)s? (?:reference|to)s? ?(?:to|the|any|other|co pending|prior|"
        r"previously filed|earlier|related|a|patent|provisional|us|u s)* ?(?:patents?|applications?|cases?"
        r"|documents?)?.*"
        r"|(?:related|priority|co pending) (?:patent |provisional )?(?:applications?|cases?|documents?"
        r"|claims?)(?: data)?"
        r"|(?:priority|benefit) claims?|claims? (?:of|to) (?:priority|benefit)|querverweis.*",
    ),
    (
        "government",
        r"(?:statement|acknowledge?ments?) (?:regarding|of|as to|about|concerning) (?:rights |u s |us )?"
        r"(?:federal|federally|government|governmental).*"
        r"|(?:us |u s |federal )?government(?:al)? (?:licen[sc]e )?(?:rights|interests?|support|funding|sponsorship).*"
        r"|federally sponsored.*|federal funding.*|statement of government.*",
    ),
    ("prior disclosures", r"(?:statement regarding )?prior disclosures? by .*|grace period .*"),
    ("sequences", r"(?:nucleotide .*)?sequence listing(?: free text)?|sequenzprotokoll"),
    ("claims", r"patentanspr\u00fcche?|anspr\u00fcche?|revendications?|reivindicaciones|conclusies|rivendicazioni"),
    ("abstract", r"abstract summary|zusammenfassung|abr\u00e9g\u00e9|resumen|riassunto|uittreksel"),
    (
        "figures",
        r"(?:a )?(?:brief |short )?descriptions? of (?:the |several |various |different |accompanying "
        r"|attached |enclosed )*"
        r"(?:drawings?|figures?|views?)(?: of (?:the )?(?:drawings?|figures?))?(?: and .*)?"
        r"|brief descriptions?(?: of .*)?|(?:list|listing) of (?:the )?(?:figures|drawings|views)|(?:the )?"
        r"(?:drawings?|figures)(?: in brief)?|(?:figure|drawing) (?:descriptions?|legends?|captions?)"
        r"|introduction to the (?:drawings?|figures)|kurze? beschreibung der (?:zeichnung(?:en)?|figuren)"
        r"|(?:explanation|overview) of (?:the )?(?:drawings?|figures)|what the (?:drawings?|figures) show",
    ),
    (
        "summary",
        r"(?:a )?(?:brief |general |short )?summary(?: (?:of|and) .*)?|(?:general |short )?(?:disclosure"
        r"|statement|nature) of"
        r" (?:the )?invention|(?:brief )?(?:overview|synopsis)(?: of (?:the )?(?:invention|disclosure))?"
        r"|objects? (?:of|and) .*|objects?|(?:the )?invention in (?:brief|short)|technical solutions?|solution to .*"
        r"|technical problem|what (?:it is|the invention is)",
    ),
    (
        "field",
        r"(?:the )?(?:technical |related |general )?fields?(?: (?:of|to) .*)?|(?:technical|related) area"
        r"|technology field"
        r"|field and background.*|area of (?:the )?(?:invention|technology)|gebiet der erfindung|technisches gebiet",
    ),
    (
        "background",
        r"(?:the )?(?:technical |general )?background(?: (?:of|to|and|art|information|discussion"
        r"|technology|section) ?.*)?"
        r"|(?:description|discussion) of (?:the )?(?:related|prior|background|known) art|(?:the )?(?:prior"
        r"|related|known) art"
        r"|state of the art|introduction|(?:the )?problem(?: to be solved)?|stand der technik",
    ),
    (
        "description",
        r"(?:the )?(?:detailed |full |complete |further |more detailed |specific )*descriptions?(?: of (?!(?:the )?"
        r"(?:services?|work|goods|charges?|expenses?|items?)\b).*)?|detailed disclosure"
        r"|(?:detailed )?descriptions? (?:of|and) .*embodiments?.*"
        r"|(?:preferred |example |exemplary |illustrative |specific |the )*(?:embodiments?|implementations?)(?: of .*)?"
        r"|best mode.*|(?:best |preferred )?modes? for carrying out .*|how (?:it|the invention) works"
        r"|ways? to carry out .*"
        r"|detailed (?:explanation|specification|discussion)(?: of .*)?|(?:ausf\u00fchrliche |detaillierte"
        r" )?beschreibung.*",
    ),
)
_KNOWN = tuple((part, re.compile(rf"^(?:{pattern})$")) for part, pattern in _PARTS)
_RUN_IN = re.compile(
    r"^(?P<head>(?:technical |related )?field(?: of (?:the )?(?:invention|disclosure))?"
    r"|background(?: of (?:the )?(?:invention|disclosure))?|(?:brief )?summary(?: of (?:the )?(?:invention"
    r"|disclosure))?"
    r"|(?:detailed )?description(?: of the (?:invention|drawings))?|brief description of the drawings?"
    r"|cross[- ]reference to related applications?|abstract(?: of the (?:disclosure|invention))?|claims?"
    r"|(?:what|that which) is claimed is|(?:we|i) claim)\s?(?:[:\u2014]|\.-|-{1,2}(?=\s))\s*(?P<rest>\S.*)$",
    re.IGNORECASE,
)


def part_of(text: str) -> Part | None:
    """The part that a heading of these words opens, or None."""
    folded = _NUMBER.sub("", keyed(text))
    if not folded or len(words(text)) > HEADING_WORDS:
        return None
    if CLAIMS_HEADING.match(folded):
        return "claims"
    if ABSTRACT_HEADING.match(folded):
        return "abstract"
    return next((part for part, pattern in _KNOWN if pattern.match(folded)), None)


def run_in(text: str) -> tuple[Part, str, str] | None:
    """Part, heading and the words behind it where a heading runs in: "Abstract: A valve with ..."."""
    found = _RUN_IN.match(text)
    part = part_of(found.group("head")) if found else None
    if found is None or part is None or not (found.group("rest")[0].isupper() or part == "claims"):
        return None
    if part == "claims" and not re.match(r"1\s?[.)]\s|[A-Z]", found.group("rest")):
        return None
    return part, found.group("head"), found.group("rest")


def stands_as_heading(text: str) -> bool:
    """Short, and no sentence; "Background." is a heading all the same, "1. A valve" of claims is none."""
    bare = text.rstrip(" .:")
    return is_heading(bare) and not re.search(r"[,;]$", bare)


def is_capitals(text: str) -> bool:
    """A row of capitals, at least one word of three letters: a heading of some kind."""
    return text == text.upper() and stands_as_heading(text) and re.search(r"[A-Z]{3}", text) is not None
