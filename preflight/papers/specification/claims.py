"""The claims among the rows of a text: each with its number, its words, and the claims that it refers to."""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec

from preflight.papers.roles.text_roles import CLAIMS_HEADING
from preflight.papers.specification.passages import Passage, Row, joined
from preflight.papers.specification.referring import Reference, references
from preflight.papers.specification.sentences import breaks
from preflight.papers.words.headings import PARAGRAPH_NUMBER
from preflight.papers.words.lettering import keyed

_MARK = re.compile(
    r"^(?:\[\s?claim\s(?P<bracket>\d{1,3})\s?\]|(?:claim|anspruch)\s(?P<word>\d{1,3})\s?[.):-]?(?=\s|$)"
    r"|\(?(?P<plain>\d{1,3})\s?[.):](?=\s|$|[A-Z])|(?P<bare>\d{1,3})(?=\s(?:An?|The|One|Use|In|Method|Apparatus)\b)"
    r"|(?P<dash>\d{1,3})\s?-\s(?=[A-Z]))\s*",
    re.IGNORECASE,
)
_CANCELLED = re.compile(r"^\(?(?:cancel+ed|withdrawn|reserved|deleted)\)?\.?$", re.IGNORECASE)


class Claim(msgspec.Struct, frozen=True):
    """`number` is None where the only claim bears none. The text is without the number."""

    number: int | None
    passage: Passage
    refers: tuple[Reference, ...] = ()

    @property
    def text(self) -> str:
        """Its words."""
        return self.passage.text

    @property
    def independent(self) -> bool:
        """Whether it refers to no other claim."""
        return not self.refers

    @property
    def cancelled(self) -> bool:
        """Whether it only says that it is none."""
        return bool(_CANCELLED.match(self.text))

    @property
    def stops(self) -> tuple[int, ...]:
        """The offsets behind each sentence that ends before the end of the claim."""
        return tuple(breaks(self.text))

    @property
    def ends(self) -> bool:
        """Whether it ends with a full stop."""
        return self.text.rstrip("\"') ").endswith(".")


def claims_in(rows: Sequence[Row]) -> tuple[Claim, ...]:
    """The claims of one set, whose heading is left out or may lead."""
    groups: list[tuple[int | None, list[Row]]] = []
    for row in rows:
        bare = msgspec.structs.replace(row, text=PARAGRAPH_NUMBER.sub("", row.text))
        if not groups and CLAIMS_HEADING.match(keyed(bare.text)):
            continue
        number = _number(bare.text, groups)
        if number is not None:
            groups.append((number, [msgspec.structs.replace(bare, text=_MARK.sub("", bare.text, count=1))]))
        elif groups:
            groups[-1][1].append(bare)
        elif bare.text.strip():
            groups.append((None, [bare]))
    return tuple(_claim(number, group) for number, group in _without_lead(groups))


def _number(text: str, groups: list[tuple[int | None, list[Row]]]) -> int | None:
    """The number of a claim that begins here; a list within a claim has numbers of its own."""
    found = _MARK.match(text)
    if found is None:
        return None
    number = int(next(filter(None, found.groups())))
    numbered = [(value, rows) for value, rows in groups if value is not None]
    if not numbered:
        return number if number <= 1 or found.group("word") or found.group("bracket") or not groups else None
    last, so_far = numbered[-1][0] or 0, numbered[-1][1][-1].text.rstrip("\"' ")
    rest = text[found.end() :]
    if found.group("bare"):
        return number if number == last + 1 and so_far.endswith(".") else None
    if so_far.endswith(".") or not so_far:
        return number
    opens = re.match(r"(?:An?|The|One|Use|In|Method|Apparatus)\b", rest) is not None
    return number if number == last + 1 and opens and not so_far.endswith((":", ";", ",", " and", " or")) else None


def _without_lead(groups: list[tuple[int | None, list[Row]]]) -> list[tuple[int | None, list[Row]]]:
    """Words before the first number are no claim: "The invention claimed is as follows"."""
    return [group for group in groups if group[0] is not None] or groups


def _claim(number: int | None, rows: Sequence[Row]) -> Claim:
    passage = joined((row.text, row.spot) for row in rows)
    passage = msgspec.structs.replace(passage, text=passage.text.rstrip())
    return Claim(number, passage, references(passage.text))


def looks_like_claims(found: Sequence[Claim]) -> bool:
    """Numbered from 1, and a later one refers to an earlier claim: so they are claims without any heading."""
    return (
        len(found) > 1
        and found[0].number == 1
        and any(c.number and any(n < c.number for n in r.claims) for c in found for r in c.refers)
    )
