"""Signatures on a paper: typed between slashes, set by software, or possibly written by hand."""

from __future__ import annotations

import re
from typing import Literal

import msgspec

from preflight.facts import Annotation, Box, Line, Page
from preflight.papers.forms.form_words import NAME, REGISTRATION, SIGNATURE
from preflight.papers.forms.labels import Value, is_label, value_at, values_at
from preflight.papers.forms.persons import is_name, is_organisation, names_office
from preflight.papers.forms.pictured import pictured
from preflight.papers.forms.s_signatures import Flaw, Typed, s_signature, typed_signatures
from preflight.papers.model import Paper, Said
from preflight.papers.words.lettering import flat, keyed
from preflight.papers.words.printed import below, beside, lines_on
from preflight.papers.words.remembered import remembered

Fault = Flaw | Literal["name"]
"""What is wrong with a typed signature: its form, or that no name is printed by it."""

NAME_ROWS = 2.2
"""The printed name stands within so many cm above or below the signature. House value: about two lines."""
LINE_REACH = 8.0
"""A signature by hand stands within so many cm right of, or over, the word "Signature". House value."""
LABEL_WORDS = 6
"""What asks for a signature has at most so many words; a sentence that speaks of one has more. House value."""
INK_THERE = "there is ink or a picture at the signature line"
HIGHEST = 3.0
"""What is higher than so many cm is a drawing or a stamp over half the form. House value."""

CLOSING_REACH = 4.0
"""... or within so many cm under the words that close a letter. House value."""

_TYPED = re.compile(r"^\s*/\s*[^\W_][^/]{0,60}/")
_NAME_UNDER = re.compile(r"(?:full |printed |typed )?name(?: of (?:the )?signer)?(?: printed| typed)*")
_CLOSING = re.compile(
    r"(?:very |most )?respectfully(?: submitted| yours)?|(?:with )?(?:kind |best )?regards"
    r"|(?:yours )?(?:very )?(?:truly|sincerely|faithfully)(?: yours)?"
)
_DRAWN = ("Ink", "Stamp", "FreeText")
"""Kinds of annotations that people sign with."""
_PART = re.compile(
    r"\s*[,(\u2014\u2013-]+\s*(?:(?:co-?|sole |joint |first(?: named)? )?(?:inventor|applicant|signer)"
    r"|attorney|agent|practitioner|ph\.? ?d|m\.? ?d\b|esq)\b.*$",
    re.IGNORECASE,
)
"""What follows the name of whoever signs."""
_REGISTRATION = re.compile(
    r"(?:\breg(?:istration)?\.?\s*(?:no\.?|number|#)?|#)\s*[:.]?\s*([1-9]\d,?\d{3})\b", re.IGNORECASE
)
_HEADED = re.compile(
    r"\b(?:sheet|application|certification|patent|status|entity|form|statement|title|invention|basis|information"
    r"|commissioner)\b"
)
"""A line with one of these words is a heading in capitals, not the name of a person."""
_NUMBER = re.compile(r"\b[1-9]\d,?\d{3}\b")
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
    written: str = ""
    """With its slashes, as it stands there."""


Kind = Literal["typed", "bare", "certificate", "software", "ink", "nothing", "unread"]
"""How a paper is signed: typed between slashes; a name typed without them; by a digital certificate; as signing
software marks it; by hand."""


class Signing(msgspec.Struct, frozen=True):
    """Whether a paper is signed: True, False, or None where that needs a human eye; `why` in words."""

    signed: bool | None
    why: str
    signatures: tuple[Signature, ...] = ()
    kind: Kind = "nothing"
    place: Said | None = None
    """Where it is signed, or should be."""


@remembered
def signing(paper: Paper) -> Signing:
    """Typed signatures first; else a certificate, marks of signing software or ink, which only an eye can judge.

    Of a scan no more is told than where ink stands in the place of the signature.
    """
    found = signatures(paper)
    good = next((one for one in found if one.fault is None), None)
    if good:
        place = Said(good.text, paper.file, paper.role, good.page, good.box)
        return Signing(True, "typed between slashes", found, "typed", place)
    for field in paper.fields:
        if field.kind == "signature" and field.value:
            place = Said("", paper.file, paper.role, field.page or paper.first_page, field.box)
            return Signing(None, "it is signed by a digital certificate", found, "certificate", place)
    if paper.text_unread:
        scrawl = _pictured_ink(paper)
        if scrawl:
            return Signing(None, INK_THERE, found, "ink", scrawl)
        return _unread(paper, found)
    marked = next((ln for page in paper.pages for ln in page.lines if _SOFTWARE.search(flat(ln.text))), None)
    if marked:
        return Signing(None, "it bears the mark of signing software", found, "software", signature_line(paper))
    inked = next((page for page in paper.pages if by_hand(page)), None)
    if inked:
        return Signing(None, INK_THERE, found, "ink", signature_line(paper))
    bare = value_at(paper, SIGNATURE)
    if bare and is_name(bare.text) and not found and not _has_label_under(paper, bare):
        place = Said(bare.text, paper.file, paper.role, bare.page, bare.box)
        return Signing(False, "no slashes round the name", found, "bare", place)
    kind: Kind = "typed" if found else "nothing"
    return Signing(False, _why_unsigned(found), found, kind, signature_line(paper))


def _has_label_under(paper: Paper, bare: Value) -> bool:
    """Whether a name is that of the next line of a form whose labels stand under what is filled in."""
    page = next(page for page in paper.pages if page.number == bare.page)
    every = lines_on(paper, page)
    own = next((line for line in every if line.box == bare.box), None)
    under = below(every, own) if own else None
    return under is not None and bool(_NAME_UNDER.fullmatch(keyed(under.text))) and beside(every, under) is None


def _unread(paper: Paper, found: tuple[Signature, ...]) -> Signing:
    """Of a scan on which nothing is seen in the place of the signature, that place, where it can be told."""
    seen = pictured(paper)
    place = signature_line(seen.paper) if seen else None
    why = f"{paper.text_unread}; nothing is seen in the place of the signature: look there" if place else ""
    return Signing(None, why or paper.text_unread or "", found, "unread", place)


def _pictured_ink(paper: Paper) -> Said | None:
    """The place for a signature of a scanned form in which something stands that is no print."""
    seen = pictured(paper)
    for page in seen.paper.pages if seen else ():
        for area in signature_places(page):
            scrawl = [box for box in (seen.doubtful.get(page.number, ()) if seen else ()) if box.touches(area)]
            if any(box.width > box.height and not _printed(page, box) for box in scrawl) or _hand_ink(page, area):
                return Said("", paper.file, paper.role, page.number, area)
    return None


def _printed(page: Page, box: Box) -> bool:
    """Whether legible words stand where something doubtful does: then it is print read badly."""
    return any(box.holds_middle_of(line.box) for line in page.lines)


def signature_line(paper: Paper) -> Said | None:
    """The words that ask for a signature, or else those that close a letter."""
    for asks in (_asks, _closes):
        for page in paper.pages:
            for line in page.lines:
                if line.visible and asks(line):
                    return Said(flat(line.text), paper.file, paper.role, page.number, line.box)
    return None


def _why_unsigned(found: tuple[Signature, ...]) -> str:
    return {
        None: "the signature line is empty",
        "slashes": "not exactly one slash on each side",
        "characters": "signs other than letters, numerals, spaces, commas, points, apostrophes and hyphens",
        "empty": "nothing between the slashes",
        "name": "the signer's name is not printed beside or below",
    }[found[0].fault if found else None]


@remembered
def signatures(paper: Paper) -> tuple[Signature, ...]:
    """Everything between slashes that stands for a signature, in reading order; no dates, fractions or paths."""
    found: list[Signature] = []
    for page in paper.pages:
        every = lines_on(paper, page)
        for line in every:
            found += [_judged(paper, page, every, line, typed) for typed in typed_signatures(line.text)]
    return tuple(found)


def _judged(paper: Paper, page: Page, every: list[Line], line: Line, typed: Typed) -> Signature:
    near = [ln for ln in every if abs(ln.box.middle[1] - line.box.middle[1]) <= NAME_ROWS]
    number = next((m.group(1) for ln in near for m in [_REGISTRATION.search(flat(ln.text))] if m), None)
    number = number or _number_in_field(paper, page)
    flaw = typed.flaw
    if flaw is None and not number:
        flaw = s_signature(f"/{typed.content}/").flaw  # "#" stands only before a registration number
    name = _printed_name(paper, page, near, line, typed.content)
    fault: Fault | None = flaw or (None if name else "name")
    return Signature(typed.content, page.number, line.box, fault, name, number, typed.written)


def _number_in_field(paper: Paper, page: Page) -> str | None:
    """The registration number where a form keeps a field of its own for it."""
    values = (value for value in values_at(paper, REGISTRATION) if value.page == page.number)
    return next((m.group(0) for value in values for m in [_NUMBER.search(value.text)] if m), None)


def _printed_name(paper: Paper, page: Page, near: list[Line], line: Line, content: str) -> Said | None:
    """The name by its label on the form, in the rest of the signature's line, or in a line close by."""
    value = value_at(paper, NAME)
    labelled = _without_office(page, value) if value and value.page == page.number else ""
    if value and is_name(labelled):
        return Said(labelled, paper.file, paper.role, page.number, value.box)
    rest = _alone(re.sub(r"/[^/]*/+", " ", flat(line.text)).strip(" ,;_").split(":")[-1].strip())
    if rest and is_name(rest) and not is_label(rest):
        return Said(rest, paper.file, paper.role, page.number, line.box)
    close = sorted(near, key=lambda ln: abs(ln.box.middle[1] - line.box.middle[1]))
    texts = [(_alone(_REGISTRATION.sub("", flat(ln.text))), ln) for ln in close if ln is not line]
    names = [
        (text, ln) for text, ln in texts if is_name(text) and not is_label(text) and not _HEADED.search(keyed(text))
    ]
    best = next((one for one in names if _shares(one[0], content)), None)
    best = best or next((one for one in names if len(one[0].split()) >= 2), None)
    return Said(best[0], paper.file, paper.role, page.number, best[1].box) if best else None


def _alone(name: str) -> str:
    """Without what says in which part the person signs: "Ada Example, inventor", "Bo Muster (attorney of record)"."""
    return _PART.sub("", name).strip(" ,()")


def _without_office(page: Page, value: Value) -> str:
    """The name alone where it goes on, or the next line does, with the office of whoever signs: "Bo Muster, CEO"."""
    texts = [flat(ln.text).split(":")[-1].strip() for ln in page.lines if value.box and ln.box.touches(value.box)]
    line = next((text for text in texts if text and value.text.startswith(text)), value.text)
    if (alone := _alone(value.text)) != value.text:
        return alone
    for name in (line, line.partition(",")[0]):
        rest = value.text.removeprefix(name)
        if names_office(rest) or is_organisation(rest):
            return name
    return value.text


def _shares(text: str, content: str) -> bool:
    return bool(set(keyed(text).split()) & set(keyed(content).split()))


def mixed(page: Page, typed: Signature) -> bool:
    """Whether ink stands beside a typed signature, at its height."""
    beside = [area for area in signature_places(page) if area.touches(typed.box)]
    return any(
        _hand_ink(page, Box(area.left, typed.box.top - 0.8, area.right, typed.box.bottom + 0.8)) for area in beside
    )


def by_hand(page: Page) -> bool:
    """Whether ink that no line of characters covers, or a picture, stands where "Signature" asks for one."""
    return any(_hand_ink(page, area) for area in signature_places(page))


def signature_places(page: Page) -> tuple[Box, ...]:
    """Where signatures are asked for: right of and over "Signature" or "Signed"; under what closes a letter."""
    asked = [_area(line.box) for line in page.lines if line.visible and _asks(line)]
    return (*asked, *(_under(line.box) for line in page.lines if line.visible and _closes(line)))


def _asks(line: Line) -> bool:
    return bool(re.search(r"\bsign(?:ature|ed)\b", keyed(line.text))) and len(line.text.split()) <= LABEL_WORDS


def _closes(line: Line) -> bool:
    return bool(_CLOSING.fullmatch(keyed(line.text)))


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


def _under(closing: Box) -> Box:
    return Box(closing.left - 0.5, closing.bottom, closing.left + LINE_REACH, closing.bottom + CLOSING_REACH)


def _hand_ink(page: Page, area: Box) -> bool:
    if any(p.box.touches(area) and p.box.area < page.width * page.height / 4 for p in page.pictures):
        return True
    return any(area.holds_middle_of(ink) and ink.height < HIGHEST for ink in page.scrawls)
