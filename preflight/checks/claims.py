"""Claims: their numbers, their form, and what they refer to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from preflight.checks.api import NoLimits, Outcomes, Seen, check
from preflight.checks.specification import as_far_as_read, only_if_read, place, start, unread
from preflight.papers import Filing
from preflight.papers.specification.antecedents import unfounded
from preflight.papers.specification.claims import Claim
from preflight.papers.specification.referring import Reference
from preflight.papers.specification.structure import specification

PROPER = ("single", "alternative", "unclear")
"""Forms of which nothing is to be said."""


def _name(claim: Claim) -> str:
    return "claim" if claim.number is None else f"claim {claim.number}"


@check("claims-present", of=Filing, takes=NoLimits, acquits_scans=True)
def claims_present(filing: Filing, _: NoLimits) -> Outcomes:
    """See whether there is at least one claim."""
    found = specification(filing)
    if found is None:
        return
    if not found.claims and found.unread:
        yield from unread(found)
        return
    at = place(found.claims[0].passage.spot) if found.claims else start(found)
    yield Seen(
        what="claims", held=bool(found.claims), measured=f"{len(found.claims)}" if found.claims else "none", at=at
    )


@check(
    "claims-form",
    of=Filing,
    takes=NoLimits,
    sorts=("gap", "repeat", "begins", "sentences", "unended", "capital", "unnumbered"),
    says=("claim", "expected", "words"),
)
def claims_form(filing: Filing, _: NoLimits) -> Outcomes:
    """Follow the numbers of the claims, and see whether each is one sentence from a capital to a full stop."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    for claims in found.claim_sets:
        expected = 1
        for at, claim in enumerate(claims):
            yield from _formed(claim, expected, claims[:at], incomplete=bool(found.unread))
            expected = (claim.number or expected) + 1


def _formed(claim: Claim, expected: int, before: Sequence[Claim], *, incomplete: bool) -> Iterator[Seen]:
    faults = list(_faults(claim, expected, before))
    for sort, offset, measured in faults if not incomplete else ():
        yield Seen(
            what=_name(claim),
            held=False,
            measured=measured,
            sort=sort,
            at=place(claim.passage.at(offset)),
            words={"claim": _name(claim), "expected": f"claim {expected}", "words": measured},
        )
    if not faults:
        yield Seen(what=_name(claim), held=True, measured="one sentence", at=place(claim.passage.spot))


def _faults(claim: Claim, expected: int, before: Sequence[Claim]) -> Iterator[tuple[str, int, str]]:
    text = claim.text
    if claim.number is None:
        yield "unnumbered", 0, _words_around(text, 0, 40)
    elif claim.number != expected:
        again = any(other.number == claim.number for other in before)
        yield "repeat" if again else "gap" if before else "begins", 0, _words_around(text, 0, 40)
    if claim.cancelled or not text:
        return
    if text[0].islower():
        yield "capital", 0, _words_around(text, 0, 40)
    for stop in claim.stops[:1]:
        yield "sentences", stop - 1, _words_around(text, stop - 30, stop + 20)
    if not claim.ends:
        yield "unended", len(text) - 1, _words_around(text, len(text) - 40, len(text))


def _words_around(text: str, start: int, end: int) -> str:
    """The whole words between two offsets."""
    first = text.find(" ", start) + 1 if start > 0 else 0
    last = text.rfind(" ", first, end) if end < len(text) else len(text)
    return text[first : last if last > first else end].strip()


@check(
    "claims-dependency",
    of=Filing,
    takes=NoLimits,
    sorts=("missing", "later", "itself"),
    says=("claim", "other"),
    acquits_scans=True,
)
def claims_dependency(filing: Filing, _: NoLimits) -> Outcomes:
    """See whether each claim that is referred to is there, and stands before."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    for claims in found.claim_sets:
        numbers = {claim.number for claim in claims}
        for claim in (one for one in claims if one.number is not None):
            for refers in claim.refers:
                yield from _reference(claim, refers, numbers, incomplete=bool(found.unread))


def _reference(claim: Claim, refers: Reference, numbers: set[int | None], *, incomplete: bool) -> Iterator[Seen]:
    for number in refers.claims:
        own = claim.number or 0
        sort = "itself" if number == own else "missing" if number not in numbers else "later" if number > own else ""
        if sort == "missing" and incomplete:
            continue
        yield Seen(
            what=_name(claim),
            held=not sort,
            measured=refers.words,
            sort=sort,
            at=place(claim.passage.at(refers.offset)),
            words={"claim": _name(claim), "other": f"claim {number}"},
        )


@check(
    "multiple-dependent",
    of=Filing,
    takes=NoLimits,
    sorts=("cumulative", "range", "and/or", "preceding", "later", "two sets", "on another"),
    says=("claim", "other"),
)
def multiple_dependent(filing: Filing, _: NoLimits) -> Outcomes:
    """Read how claims refer to several claims: in the alternative, to one set, and to none that does the same."""
    found = yield from as_far_as_read(filing)
    if found is None:
        return
    for claims in found.claim_sets:
        multiple = {c.number for c in claims if any(r.multiple for r in c.refers)}
        for claim in claims:
            yield from _several(claim, multiple)


def _several(claim: Claim, multiple: set[int | None]) -> Iterator[Seen]:
    several = [refers for refers in claim.refers if refers.multiple]
    if not several:
        return
    first = several[0]
    bad = next((refers for refers in several if refers.form not in PROPER), None)
    rests = next((n for refers in several for n in refers.claims if n in multiple and n != claim.number), None)
    sort = (
        bad.form if bad else "two sets" if len({r.claims for r in claim.refers}) > 1 else "on another" if rests else ""
    )
    yield Seen(
        what=_name(claim),
        held=not sort,
        measured=f'"{(bad or first).words}"',
        sort=sort,
        at=place(claim.passage.at((bad or first).offset)),
        words={"claim": _name(claim), "other": f"claim {rests}" if rests else ""},
    )


@check("claims-counted", of=Filing, takes=NoLimits, says=("claim",))
def claims_counted(filing: Filing, _: NoLimits) -> Outcomes:
    """Count as how many claims each counts that refers, itself or through another, to several in the alternative."""
    found = yield from as_far_as_read(filing)
    for claims in found.claim_sets if found else ():
        counts: dict[int | None, int] = {}
        for claim in claims:
            direct = max((len(refers.claims) for refers in claim.refers if refers.multiple), default=0)
            through = max((counts.get(n, 1) for refers in claim.refers for n in refers.claims), default=1)
            counts[claim.number] = direct or through
            if claim.refers:
                count = counts[claim.number]
                yield Seen(
                    what=_name(claim),
                    held=count <= 1,
                    measured=f"{count}",
                    at=place(claim.passage.spot),
                    words={"claim": _name(claim)},
                )


@check("claims-terms", of=Filing, takes=NoLimits, says=("claim",))
def claims_terms(filing: Filing, _: NoLimits) -> Outcomes:
    """Look for "the" before a word of which neither the claim nor those that it refers to spoke before."""
    found = yield from only_if_read(filing)
    if found is None:
        return
    for claims in found.claim_sets:
        faults = list(unfounded(claims))
        for one in faults:
            yield Seen(
                what=f"claim {one.claim}",
                held=False,
                measured=f'"{one.noun}"',
                at=place(one.spot),
                words={"claim": f"claim {one.claim}"},
            )
        if not faults:
            yield Seen(what="claims", held=True, measured="each begins", at=place(claims[0].passage.spot))
