"""Words that stand where they should not: phrases, placeholders, passages in another language."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

import msgspec

from preflight.papers.specification.passages import Passage, Spot
from preflight.papers.specification.sentences import sentences
from preflight.papers.specification.structure import Section, Specification
from preflight.papers.words.lettering import words

LEAST_WORDS = 25
"""A paragraph of fewer words does not tell its language. House value."""
ENGLISH = 0.15
"""English text has at least so large a share of its small words; other languages hardly any of them. House value."""
FOREIGN = 0.15
"""... and text in another language such a share of its own. House value."""

_ENGLISH = frozenset(
    [
        "the",
        "of",
        "and",
        "to",
        "is",
        "that",
        "for",
        "are",
        "with",
        "by",
        "on",
        "as",
        "be",
        "or",
        "which",
        "from",
        "it",
        "at",
        "can",
        "may",
        "this",
        "has",
        "not",
        "each",
        "when",
        "where",
        "if",
    ]
)
_OTHERS = tuple(
    frozenset(said.split())
    for said in (
        "der die das und ist von mit den dem ein eine einer eines zu auf bei wird werden sich im oder nicht durch nach",
        "le la les des du et est un une dans pour que qui par sur avec au aux ou sont cette ce il comme",
        "el la los las del y es un una en para que por con al se o son esta como lo su entre",
        "il lo la gli le di e del della un una per che con nel alla si sono da in dei delle",
        "o a os as do da dos das e um uma em para que por com no na se ou como ao",
        "de het een en van is dat op te in voor met zijn niet door aan bij wordt worden of",
    )
)
_FOREIGN_LETTERS = re.compile(
    r"[\u0400-\u04ff\u0590-\u06ff\u0900-\u0dff\u0e00-\u0e7f\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af]"
)


class Wording(msgspec.Struct, frozen=True):
    """Words that were found, the sentence in which they stand, and where."""

    words: str
    sentence: str
    spot: Spot


def phrases(passage: Passage, wanted: Iterable[str], unless: Iterable[str] = ()) -> Iterator[Wording]:
    """The sentences with one of the `wanted` phrases and none of those that acquit; case and spaces do not count."""
    wanted_words, acquitting = _any_of(wanted), _any_of(unless)
    if wanted_words is None or not wanted_words.search(passage.text):
        return
    for start, sentence in sentences(passage.text):
        found = wanted_words.search(sentence)
        if found and not (acquitting and acquitting.search(sentence)):
            yield Wording(found.group(), sentence, passage.at(start + found.start()))


def _any_of(some: Iterable[str]) -> re.Pattern[str] | None:
    said = "|".join(r"\s".join(map(re.escape, one.split())) for one in some)
    return re.compile(rf"(?<![\w-])(?:{said})(?![\w-])", re.IGNORECASE) if said else None


_UNIT = (
    r"(?:%|\u00b0|percent|mm|cm|m|nm|kg|g|mg|ml|l|hz|v|w|a|degrees?|inch(?:es)?|seconds?|minutes?|hours?|days?|wt)\b"
)
_PLACEHOLDERS = re.compile(
    r"(?P<field>(?i:error!\s?(?:reference source not found|bookmark not defined|no (?:text|bookmark)[^.]*"
    r"|unknown [^.]*))|#REF!)"
    r"|(?P<latin>(?i:lorem ipsum))"
    r"|(?P<bracket>[\[<{]{1,2}\s?(?:(?i:insert|tbd|tbc|todo|to do|to be (?:determined|confirmed|completed|added"
    r"|inserted|provided)"
    r"|placeholder|fill in|please (?:add|insert|confirm|check|provide)|add (?:more|text|detail|figure|description)|"
    r"note to (?:self|draft\w*|inventors?|attorney|file)|nts?|ntd|ask (?:the )?(?:inventor|client)\w*"
    r"|check (?:with|this|number|"
    r"value)|confirm(?: with)?|describe|explain|need(?:s)? (?:more|to|support)|citation needed|figure to"
    r" (?:come|follow))\b"
    r"[^\]>}]{0,80}|(?:DATE|NAME|TITLE|COMPANY|CLIENT|INVENTOR|APPLICANT|ASSIGNEE|NUMBER|XX+)\b[^\]>}]{0,40})[\]>}]{1,2})"
    r"|(?P<blank>(?<=\w\s)\[(?:\s|_{1,}|\.{3}|\u2026|\?+)?\](?=[\s.,;])|\[_+\]|\[\?+\])"
    r"|(?P<span>\bX{2,4}\sto\s\d)"
    r"|(?P<queries>\?{3,})"
    r"|(?P<tbd>(?<![\w(/-])TB[DCA](?![\w)-])|(?<!//\s)(?<!#\s)(?<!/\*\s)\b(?:TODO|FIXME)\b(?!\s?[()]|\s(?:list|item|app|entry|task|comment|mark)s?\b)|"
    r"(?:INSERT|Insert)\s(?:[A-Za-z]+\s){0,4}(?:HERE|here)\b)"
    rf"|(?P<crosses>\b(?:about|approximately|roughly|between|than|FIGS?\.|No\.|numeral|step)\sX{{2,4}}\b(?!\s?(?:chromosome|male|female))"
    rf"|\bX{{2,4}}\s?{_UNIT}|\bX{{2}}/X{{3}},?X{{3}}\b|(?<![\w-])X{{5,}}(?![\w-])|\b\d{{2}}/X{{3}},X{{3}}\b)"
    r"|(?P<line>(?<=[\w,.]\s)_{2,}(?:/_{2,}(?:,_{2,})?|(?<=_{3}))(?=[\s.,;)]|$))"
    r"|(?P<note>\b(?:note to (?:self|drafter|draftsman|inventors?|attorney|file)\b|NTD:))",
)


def placeholders(passage: Passage) -> Iterator[Wording]:
    """What stands for words that were never written. "[...]" within a quotation is none."""
    for found in _PLACEHOLDERS.finditer(passage.text):
        kind = found.lastgroup or ""
        if kind == "blank" and _quoted(passage.text, found.start()):
            continue
        around = passage.text[max(0, found.start() - 40) : found.end() + 40]
        yield Wording(found.group().strip(), around, passage.at(found.start()))


def _quoted(text: str, offset: int) -> bool:
    """Whether an odd number of quotation marks stands before: the words are somebody else's."""
    return text.count('"', max(0, offset - 600), offset) % 2 == 1


class Language(msgspec.Struct, frozen=True):
    """How much of a text is not English: words, of all words, and the first such paragraph."""

    foreign: int
    every: int
    spot: Spot | None = None


def language(found: Specification) -> Language:
    """Counted by paragraph: by its small words and its script, so that names, formulas and code do not count.

    Characters of a page that cannot be told, as where a font has no map, are of no language.
    """
    foreign, every = 0, 0
    unread = {(file, page) for file, _, page, _ in found.unread}
    first: Spot | None = None
    for section in found.sections:
        for paragraph in section.paragraphs:
            if (paragraph.passage.spot.file, paragraph.passage.spot.page) in unread:
                continue
            count = max(len(words(paragraph.text)), len(_FOREIGN_LETTERS.findall(paragraph.text)) // 2)
            every += count
            if count >= LEAST_WORDS and _is_foreign(paragraph.text):
                foreign += count
                first = first or paragraph.passage.spot
    return Language(foreign, every, first)


def _is_foreign(text: str) -> bool:
    letters = sum(character.isalpha() for character in text)
    if len(_FOREIGN_LETTERS.findall(text)) > letters / 2:
        return True
    said = [word.casefold() for word in words(text)]
    if not said:
        return False
    own = sum(word in _ENGLISH for word in said) / len(said)
    other = max(sum(word in language and word not in _ENGLISH for word in said) for language in _OTHERS) / len(said)
    return own < ENGLISH and other >= FOREIGN


def shortened(text: str, most: int = 90) -> str:
    """The first words, for a message."""
    return text if len(text) <= most else text[:most].rsplit(" ", 1)[0] + " ..."


_SELF = (
    r"(?:this|the present|the instant|the subject|present) (?:\w+[ -]){0,3}?(?:application|disclosure"
    r"|patent|invention|case)|applicants?|we"
)
_CLAIMS_BENEFIT = re.compile(
    rf"\b(?:{_SELF})\b[^.;]{{0,80}}?\b(?:(?:hereby )?claims?|is entitled to|has)\s(?:the |all |domestic "
    rf"|foreign )*(?:benefits?|priority)\b"
    rf"|\b(?:{_SELF})\s(?:is|was)\s(?:also )?an?\s(?:continuation(?:[- ]in[- ]part)?|division(?:al)?"
    rf"|non-?provisional|national (?:stage|phase)|"
    r"reissue)\b"
    r"|^(?:priority|benefit) (?:is|of)\b[^.]{0,80}\b(?:claimed|hereby)\b",
    re.IGNORECASE,
)
_NOT_SO = re.compile(
    r"\b(?:no|not|without|may|can|could|will|would|later|if|intends?|reserves?|future|subsequent)\b", re.IGNORECASE
)


def benefit_claims(passage: Passage) -> Iterator[Wording]:
    """Sentences in which this application itself claims priority or benefit, or says that it continues another."""
    for start, sentence in sentences(passage.text):
        found = _CLAIMS_BENEFIT.search(sentence)
        if found and not _NOT_SO.search(found.group()):
            yield Wording(shortened(sentence), sentence, passage.at(start + found.start()))


_SUPPORTED = re.compile(
    r"\bgovernment (?:has|have|may have|retains|owns) (?:certain |some |a )?(?:rights|interest|license)\b"
    r"|\b(?:with|under) (?:U\.?\s?S\.? |United States |federal )?government support\b"
    r"|\bsupported (?:in (?:whole|part) )?by (?:the )?(?:U\.?\s?S\.?|United States|National|Department|NIH"
    r"|NSF|DARPA|DOE)\b"
    r"|\b(?:grant|contract|award)\s(?:no\.?|number)\b",
    re.IGNORECASE,
)


def tells_support(passage: Passage) -> bool:
    """Whether a text says that a government supported the work."""
    return _SUPPORTED.search(passage.text) is not None


_MARKED = re.compile("(?P<word>[^\\W\\d_][\\w&'-]*)\\s?(?:[\u00ae\u2122\u2120]|\\((?:TM|R|SM)\\))")


def marked_words(text: str) -> Iterator[tuple[int, str]]:
    """Where a word bears the sign of a trade mark, and the word."""
    return ((found.start(), found.group("word")) for found in _MARKED.finditer(text))


_OPENS = re.compile(
    r"\b(?:the|a|an|of|and|or|to|with|in|by|for|from|is|are|that|which|into|its|at)$|[a-z],$|[a-z]-$", re.IGNORECASE
)


class Break(msgspec.Struct, frozen=True):
    """A sentence that is cut at the end of a page: the last words there, and the first of the next page, if any."""

    last: str
    first: str
    spot: Spot


def broken_sentences(sections: Sequence[Section]) -> Iterator[Break]:
    """Where a page ends within a sentence that the next page does not take up, and where the text as a whole does."""
    every = [
        (paragraph, section)
        for section in sections
        for paragraph in (*((section.heading,) if section.heading else ()), *section.paragraphs)
    ]
    for at, (paragraph, _) in enumerate(every):
        after = every[at + 1][0] if at + 1 < len(every) else None
        last = paragraph.rows[-1]
        cut = not paragraph.heading and len(words(last.text)) >= 4 and _OPENS.search(last.text)
        if (
            cut
            and (after is None or _elsewhere(after.rows[0].spot, last.spot))
            and (after is None or after.heading or after.number)
        ):
            yield Break(_tail(last.text), after.text[:40] if after else "", last.spot)


def _elsewhere(spot: Spot, last: Spot) -> bool:
    return (spot.file, spot.page) != (last.file, last.page)


def _tail(text: str) -> str:
    return " ".join(text.split()[-6:])
