"""Facts turned into what a practitioner sees; pure functions, no document is opened here."""

from preflight.papers.forms import (
    Certification,
    Choice,
    CoverSheet,
    Inventor,
    Signature,
    Signing,
    certification,
    cover_sheet,
    inventors,
    says_provisional,
    serves_as_cover_sheet,
    signing,
)
from preflight.papers.matter.titles import difference, title_candidates, title_of
from preflight.papers.matter.versions import ONE_OF_EACH, Twins, near_twins, text_of
from preflight.papers.model import OTHER, SCAN, UNKNOWN, Declared, Filing, Kind, Paper, Role, Said, Sign
from preflight.papers.money.claimed import EntityClaimed, amount_due, entity_claimed
from preflight.papers.money.entity import EntityPicture, entity_said
from preflight.papers.money.fees import FeeLine, sheet_count, size_units, total, worksheet
from preflight.papers.pages.dockets import dockets
from preflight.papers.pages.dockets import fold as fold_docket
from preflight.papers.pages.page_numbers import PageNumber, page_numbers
from preflight.papers.pages.running import RunningText, body, line_numbers, running_lines, running_text
from preflight.papers.pages.sheets import (
    FigureLabel,
    SheetNumber,
    figure_labels,
    identification,
    sheet_numbers,
    sight_ink,
)
from preflight.papers.roles.built_in import BUILT_IN_ROLES
from preflight.papers.roles.split import Contradiction, contradictions, find_papers
from preflight.papers.words.lettering import flat as flat_text

__all__ = [
    "BUILT_IN_ROLES",
    "ONE_OF_EACH",
    "OTHER",
    "SCAN",
    "UNKNOWN",
    "Certification",
    "Choice",
    "Contradiction",
    "CoverSheet",
    "Declared",
    "EntityClaimed",
    "EntityPicture",
    "FeeLine",
    "FigureLabel",
    "Filing",
    "Inventor",
    "Kind",
    "PageNumber",
    "Paper",
    "Role",
    "RunningText",
    "Said",
    "SheetNumber",
    "Sign",
    "Signature",
    "Signing",
    "Twins",
    "amount_due",
    "body",
    "certification",
    "contradictions",
    "cover_sheet",
    "difference",
    "dockets",
    "entity_claimed",
    "entity_said",
    "figure_labels",
    "find_papers",
    "flat_text",
    "fold_docket",
    "identification",
    "inventors",
    "line_numbers",
    "near_twins",
    "page_numbers",
    "running_lines",
    "running_text",
    "says_provisional",
    "serves_as_cover_sheet",
    "sheet_count",
    "sheet_numbers",
    "sight_ink",
    "signing",
    "size_units",
    "text_of",
    "title_candidates",
    "title_of",
    "total",
    "worksheet",
]
