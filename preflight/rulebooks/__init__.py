"""Law as data: requirements, questions, notes, dated tables and citations of each office, loaded strictly."""

from preflight.rulebooks.loader import as_struct, load
from preflight.rulebooks.model import (
    ORDER,
    Citation,
    Grade,
    Level,
    Note,
    Question,
    Requirement,
    Rulebook,
    When,
    worse,
)

__all__ = [
    "ORDER",
    "Citation",
    "Grade",
    "Level",
    "Note",
    "Question",
    "Requirement",
    "Rulebook",
    "When",
    "as_struct",
    "load",
    "worse",
]
