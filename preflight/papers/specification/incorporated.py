"""Sentences that take in another document by reference: whether they do, and what kind of document it is."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal

import msgspec

from preflight.papers.specification.passages import Passage
from preflight.papers.specification.sentences import sentences
from preflight.papers.specification.wording import Wording, shortened

_DOCUMENT = (
    r"(?:patents?|applications?|publications?|documents?|articles?|disclosures?|references?"
    r"|specifications?|ser(?:ial|\.)? no)"
)
_TAKES_IN = re.compile(r"incorporat|hereby|herein", re.IGNORECASE)
_INCORPORATES = re.compile(r"\bincorporat\w*", re.IGNORECASE)
_REFERENCE = re.compile(r"\breferences?\b", re.IGNORECASE)
_NO_NUMBER = re.compile(
    r"\b(?:application|patent|publication|serial|ser\.)\s(?:serial\s)?(?:nos?\.|numbers?|no\b)\s*(?:_{2,}|\[[^\]\d]*\]|X{2,}\S*"
    r"|\d{2}/\s?(?:_{2,}|X{2,}\S*|\[[^\]\d]*\])|,|\bfiled\b)",
    re.IGNORECASE,
)
_WEB = re.compile(r"\bhttps?:|\bwww\.|\bftp:", re.IGNORECASE)
_SWALLOWS = re.compile(
    rf"\b{_DOCUMENT}\b.{{0,160}}\b(?:hereby|herein|fully|wholly)\s(?:included|inserted|incorporated|embodied|adopted|imported)\b"
    rf"|\b(?:hereby|herein)\s(?:include|insert|incorporate|embody|adopt|import)s?\b.{{0,120}}\b{_DOCUMENT}\b"
    rf"|\b{_DOCUMENT}\b.{{0,160}}\b(?:included|inserted|incorporated|embodied|adopted|imported)\s(?:herein|hereby)\b",
    re.IGNORECASE,
)


def incorporations(passage: Passage) -> Iterator[tuple[str, Wording]]:
    """Each sentence that takes in another document, with what is wrong: "", "words", "blank" or "web"."""
    for start, sentence in sentences(passage.text):
        if not _TAKES_IN.search(sentence):
            continue
        found = _INCORPORATES.search(sentence)
        swallows = _SWALLOWS.search(sentence)
        both = found is not None and _REFERENCE.search(sentence) is not None
        if not both and not swallows:
            continue
        first = found or swallows
        at = first.start() if first else 0
        said = Wording(shortened(sentence), sentence, passage.at(start + at))
        if both and _WEB.search(sentence):
            yield "web", said
        elif blank := _NO_NUMBER.search(sentence):
            yield (
                "blank",
                msgspec.structs.replace(
                    said, words=shortened(sentence[blank.start() :]), spot=passage.at(start + blank.start())
                ),
            )
        else:
            yield "" if both else "words", said


Origin = Literal["", "foreign", "writing", "application"]
"""Of a document: "" for a patent or published application of the office's own country, or where it cannot be told."""

_ABROAD = re.compile(
    r"\b(?:EP|WO|JP|CN|DE|GB|KR|FR|AU|CA|TW)[\s-]?\d|\bPCT/[A-Z]{2}"
    r"|\b(?:European|Japanese|Chinese|German|French|British|Korean|Canadian|Australian|International|PCT|foreign)"
    r"\s(?:\w+\s){0,2}?(?:patents?|applications?|publications?)\b"
)
_WRITING = re.compile(
    r"\b(?:articles?|journals?|textbooks?|books?|manuals?|handbooks?|thesis|theses|data\s?sheets?|proceedings"
    r"|white\s?papers?|et al|(?:ISO|IEEE|ASTM|IEC|DIN|ANSI|RFC|OECD)(?:\s[A-Z]+)?[\s-]?\d+)\b"
)
_APPLICATION = re.compile(r"\bapplications?\b.{0,40}?\b[1-9]\d/\s?\d{3},?\d{3}\b", re.IGNORECASE)
_PUBLISHED = re.compile(r"\bpublish|\bpublication|\bpub\.|\bissued\b|\bnow\s.{0,20}\bpat", re.IGNORECASE)
_EVERYTHING = re.compile(
    r"\b(?:all|each|any|every)\b.{0,120}\b(?:cited|mentioned|referenced|referred|listed|discussed)\b", re.IGNORECASE
)


def origins(passage: Passage) -> Iterator[tuple[Origin, Wording]]:
    """Each sentence that takes in a document by the words of the law, with the kind that it names.

    "All publications cited herein" names none.
    """
    for fault, said in incorporations(passage):
        if fault == "":
            yield _origin(said.sentence), said


def _origin(sentence: str) -> Origin:
    if _EVERYTHING.search(sentence):
        return ""
    if _ABROAD.search(sentence):
        return "foreign"
    if _WRITING.search(sentence):
        return "writing"
    return "application" if _APPLICATION.search(sentence) and not _PUBLISHED.search(sentence) else ""
