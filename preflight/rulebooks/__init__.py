"""Law as data: requirements, questions, notes, dated tables and citations of each office, loaded strictly."""

from preflight.rulebooks.extending import extended, is_extension, load_extension
from preflight.rulebooks.loader import as_struct, load
from preflight.rulebooks.model import (
    ORDER,
    Citation,
    Extension,
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
    "Extension",
    "Grade",
    "Level",
    "Note",
    "Question",
    "Requirement",
    "Rulebook",
    "When",
    "as_struct",
    "extended",
    "is_extension",
    "load",
    "load_extension",
    "worse",
]
