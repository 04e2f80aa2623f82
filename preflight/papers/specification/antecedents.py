"""Words of claims without a beginning: "the spring" where no claim that leads here ever spoke of "a spring"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

import msgspec

from preflight.papers.specification.claims import Claim
from preflight.papers.specification.passages import Spot

_VERBS = r"(?:is|are|has|have|comprises?|includes?|being|having|further|extends?|contains?)"
_DEFINITE = re.compile(
    rf"\b(?:the|said)\s(?P<noun>(?:[a-z][a-z-]*\s){{0,2}}?[a-z][a-z-]{{2,}})(?=\s\(?\d|\s{_VERBS}\b|[,;.])",
    re.IGNORECASE,
)

_GOES_ON = re.compile(
    r"\s(?:before|after|by|in|on|of|to|from|with|at|for|into|onto|through|over|under|between|during|when|while|until)\s"
)
"""Behind such a word the noun is another one: "the form before casting" speaks of the form."""

_KNOWN = frozenset(
    re.findall(
        r"\S+",
        """
        same other latter former invention art environment user ground earth outside inside length width height depth
        diameter thickness weight temperature pressure top bottom center centre surface interior exterior end ends side
        sides amount ratio volume position number direction rest remainder step steps mixture result following group
        time order whole front rear back left right upper lower preceding
        claim claims again thereof therein thereto together only
        """,
    )
)
"""Words that need no beginning: what every thing has, and what the claim itself is. House list."""


class Unfounded(msgspec.Struct, frozen=True):
    """A noun that a claim speaks of as known."""

    claim: int
    noun: str
    spot: Spot


def unfounded(claims: Sequence[Claim]) -> Iterator[Unfounded]:
    """Only where no word of the noun stands anywhere before, in the claim or in those that it refers to."""
    by_number = {claim.number: claim for claim in claims if claim.number is not None}
    for claim in claims:
        before = " ".join(other.text for other in _leading(claim, by_number))
        for found in _DEFINITE.finditer(claim.text):
            noun = _GOES_ON.split(found.group("noun"))[0]
            head = noun.split()[-1].casefold()
            stem = head[: max(4, len(head) - 3)]
            said = f"{before} {claim.text[: found.start()]}".casefold()
            if stem not in said and claim.number is not None and head not in _KNOWN:
                said_so = claim.text[found.start() : found.start("noun")] + noun
                yield Unfounded(claim.number, said_so, claim.passage.at(found.start()))


def _leading(claim: Claim, by_number: Mapping[int, Claim]) -> list[Claim]:
    """The claims that this one refers to, and those that they refer to, each once."""
    found: dict[int, Claim] = {}
    asked = [claim]
    while asked:
        for number in (n for refers in asked.pop().refers for n in refers.claims):
            other = by_number.get(number)
            if other is not None and number not in found and other is not claim:
                found[number] = other
                asked.append(other)
    return list(found.values())
