"""Signatures on a paper: typed between slashes, set by software, or possibly written by hand."""

from __future__ import annotations

import re
from typing import Literal

import msgspec

from preflight.facts import Annotation, Box, Line, Page
from preflight.papers.forms.form_words import NAME, SIGNATURE
from preflight.papers.forms.labels import is_label, value_at
from preflight.papers.forms.persons import is_name
from preflight.papers.model import Paper, Said
from preflight.papers.words.lettering import flat, keyed
from preflight.papers.words.printed import lines_on

Fault = Literal["slashes", "characters", "empty", "name"]

NAME_ROWS = 2.2
"""The printed name stands within so many cm above or below the signature. House value: about two lines."""
LINE_REACH = 8.0
"""A signature by hand stands within so many cm right of, or over, the word "Signature". House value."""
HAND_HEIGHT = 0.35
"""Ink lower than so many cm is a rule, a dot or a typed mark rather than handwriting. House value."""

_SLASHED = re.compile(r"(?<![\w/])(/+)([^/]{0,60})(/+)(?![\w/])")
_TYPED = re.compile(r"^\s*/\s*[^\W_][^/]{0,60}/")
_DRAWN = ("Ink", "Stamp", "FreeText")
"""Kinds of annotations that people sign with."""
_OPEN_ENDED = re.compile(r"^/\s*[A-Za-z][^/]{2,40}$")
# 37 CFR 1.4(d)(2)(i): letters, Arabic numerals, spaces, commas, periods, apostrophes, hyphens
_GOOD = re.compile(r"^[^\W_](?:[^\W_]|[ ,.'\-])*$|^[ ,.'\-]*[^\W_](?:[^\W_]|[ ,.'\-])*$")
_REGISTRATION = re.compile(
    r"(?:\breg(?:istration)?\.?\s*(?:no\.?|number|#)?|#)\s*[:.]?\s*([1-9]\d,?\d{3})\b", re.IGNORECASE
)
_SOFTWARE = re.compile(
    r"\b(?:digitally signed|electronically signed|signed (?:with|by means of|using|via)|e-?signed|envelope id"
    r"|signature id|certificate of completion|audit trail|signing certificate)\b",
    re.IGNORECASE,
)


class Signature(msgspec.Struct, frozen=True):
    """What stands between slashes, or should; `fault` says what is wrong with it, None for a good one."""

    text: str
    page: int
    box: Box
    fault: Fault | None = None
    name: Said | None = None
    registration: str | None = None


class Signing(msgspec.Struct, frozen=True):
    """Whether a paper is signed: True, False, or None where that needs a human eye; `why` in words."""

    signed: bool | None
    why: str
    signatures: tuple[Signature, ...] = ()


def signing(paper: Paper) -> Signing:
    """Typed signatures first; else marks of signing software or ink by hand, which only an eye can judge."""
    found = signatures(paper)
    if any(one.fault is None for one in found):
        return Signing(True, "typed between slashes", found)
    if paper.text_unread:
        return Signing(None, paper.text_unread, found)
    if any(_SOFTWARE.search(flat(line.text)) for page in paper.pages for line in page.lines):
        return Signing(None, "it bears the mark of signing software", found)
    if any(by_hand(page) for page in paper.pages):
        return Signing(None, "there is ink or a picture at the signature line", found)
    return Signing(False, _why_unsigned(paper, found), found)


def _why_unsigned(paper: Paper, found: tuple[Signature, ...]) -> str:
    if found and found[0].fault:
        return {
            "slashes": "not exactly one slash on each side",
            "characters": "signs other than letters, numerals, spaces, commas, points, apostrophes and hyphens",
            "empty": "nothing between the slashes",
            "name": "the signer's name is not printed beside or below",
        }[found[0].fault]
    typed = value_at(paper, SIGNATURE)
    return "no slashes round the name" if typed and is_name(typed.text) else "the signature line is empty"


def signatures(paper: Paper) -> tuple[Signature, ...]:
    """Everything between slashes that stands for a signature, in reading order; no dates, fractions or paths."""
    found: list[Signature] = []
    for page in paper.pages:
        every = lines_on(paper, page)
        for line in every:
            found += [_judged(paper, page, every, line, *parts) for parts in _slashed(flat(line.text))]
    return tuple(found)


def _slashed(text: str) -> list[tuple[str, str, str]]:
    """Runs between slashes: (opening slashes, content, closing slashes)."""
    plain = re.sub(r"\b\d{1,4}/\d{1,2}/\d{1,4}\b|https?://\S+|\b\w+/\w+(?:/\w+)*\b", " ", text)
    found = [match.groups() for match in _SLASHED.finditer(plain)]
    if found:
        return [(opening, content.strip(), closing) for opening, content, closing in found]
    lone = _OPEN_ENDED.match(plain.strip())
    return [("/", plain.strip()[1:].strip(), "")] if lone and len(plain.split()) <= 5 else []


def _judged(
    paper: Paper, page: Page, every: list[Line], line: Line, opening: str, content: str, closing: str
) -> Signature:
    near = [ln for ln in every if abs(ln.box.middle[1] - line.box.middle[1]) <= NAME_ROWS]
    number = next((m.group(1) for ln in near for m in [_REGISTRATION.search(flat(ln.text))] if m), None)
    name = _printed_name(paper, page, near, line, content)
    bare = re.sub(r"#\s*(?=\d)", "", content) if number else content
    fault: Fault | None = None
    if (opening, closing) != ("/", "/"):
        fault = "slashes"
    elif not content:
        fault = "empty"
    elif not _GOOD.match(bare):
        fault = "characters"
    elif name is None:
        fault = "name"
    return Signature(content, page.number, line.box, fault, name, number)


def _printed_name(paper: Paper, page: Page, near: list[Line], line: Line, content: str) -> Said | None:
    """The name by its label on the form, in the rest of the signature's line, or in a line close by."""
    value = value_at(paper, NAME)
    if value and value.page == page.number and is_name(value.text):
        return Said(value.text, paper.file, paper.role, page.number, value.box)
    rest = re.sub(r"/[^/]*/+", " ", flat(line.text)).strip(" ,;_").split(":")[-1].strip()
    if rest and is_name(rest) and not is_label(rest):
        return Said(rest, paper.file, paper.role, page.number, line.box)
    close = sorted(near, key=lambda ln: abs(ln.box.middle[1] - line.box.middle[1]))
    texts = [(_REGISTRATION.sub("", flat(ln.text)).strip(" ,()"), ln) for ln in close if ln is not line]
    names = [(text, ln) for text, ln in texts if is_name(text) and not is_label(text)]
    best = next((one for one in names if _shares(one[0], content)), None)
    best = best or next((one for one in names if len(one[0].split()) >= 2), None)
    return Said(best[0], paper.file, paper.role, page.number, best[1].box) if best else None


def _shares(text: str, content: str) -> bool:
    return bool(set(keyed(text).split()) & set(keyed(content).split()))


def by_hand(page: Page) -> bool:
    """Whether ink that no line of characters covers, or a picture, stands where "Signature" asks for one."""
    return any(_hand_ink(page, area) for area in signature_places(page))


def signature_places(page: Page) -> tuple[Box, ...]:
    """Where signatures are asked for: right of, and over, the words "Signature" or "Signed"."""
    labels = [line for line in page.lines if line.visible and re.search(r"\bsign(?:ature|ed)\b", keyed(line.text))]
    return tuple(_area(line.box) for line in labels if len(flat(line.text).split()) <= 6)


def laid_on_as_signature(paper: Paper, laid: Annotation) -> bool:
    """Whether something laid on a form or a letter stands for a signature: typed between slashes, or in its place."""
    if paper.kind not in ("form", "letter"):
        return False
    if laid.kind == "FreeText" and _TYPED.match(laid.words):
        return True
    page = next((page for page in paper.pages if page.number == laid.page), None)
    if page is None or laid.box is None or laid.kind not in _DRAWN:
        return False
    return any(laid.box.touches(area) for area in signature_places(page))


def _area(label: Box) -> Box:
    return Box(label.left - 0.5, label.top - 1.6, label.right + LINE_REACH, label.bottom + 0.4)


def _hand_ink(page: Page, area: Box) -> bool:
    if any(p.box.touches(area) and p.box.area < page.width * page.height / 4 for p in page.pictures):
        return True
    return any(
        mark.height >= HAND_HEIGHT
        and mark.width >= HAND_HEIGHT
        and area.left <= mark.middle[0] <= area.right
        and area.top <= mark.middle[1] <= area.bottom
        and mark.height < 3
        and not any(line.box.touches(mark) for line in page.lines)
        for mark in page.marks
    )
