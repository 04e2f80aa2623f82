"""Whether two papers speak of the same thing: the words that the one uses and the other should know."""

from __future__ import annotations

from preflight.papers.matter.versions import text_of
from preflight.papers.model import Paper
from preflight.papers.words.lettering import keyed

LETTERS = 5
"""Words of fewer letters tell nothing. House value."""
LEAST_OWN, LEAST_OTHER = 10, 40
"""So many different words are needed on each side to tell. House values."""
_CLAIM_WORDS = """
    claim claims claimed according wherein which comprising comprises comprise having including includes further
    method apparatus device system assembly member portion first second third plurality least being thereof therein
    between configured adapted coupled connected disposed invention abstract disclosure provided position
"""
CLAIM_WORDS = frozenset(_CLAIM_WORDS.split())
"""Words that all claims and abstracts use."""


def shared_words(paper: Paper, description: Paper) -> float | None:
    """The share of the telling words of a paper that the description uses too; None if there are too few to tell."""
    own, known = _telling(paper), _telling(description)
    if len(own) < LEAST_OWN or len(known) < LEAST_OTHER:
        return None
    return len(own & known) / len(own)


def _telling(paper: Paper) -> frozenset[str]:
    words = keyed(text_of(paper)).split()
    return frozenset(word[:7] for word in words if len(word) >= LETTERS and word.isalpha() and word not in CLAIM_WORDS)
