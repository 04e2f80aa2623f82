"""Facts turned into what a practitioner sees; pure functions, no document is opened here."""

from preflight.papers.characters.character_table import (
    CharacterRow,
    CharacterTable,
    FigureRow,
    NotRead,
    character_table,
)
from preflight.papers.characters.clashes import (
    Early,
    NameUse,
    Slip,
    TwoNames,
    modified_parts,
    slips,
    two_names,
    used_early,
)
from preflight.papers.characters.described import Described, Mention, described
from preflight.papers.characters.drawn_characters import Character, characters_on, numbers_on, usual_height
from preflight.papers.characters.matching import Matched, match, may_be
from preflight.papers.characters.next_free import NextFree
from preflight.papers.characters.sheets_read import SheetRead, sheets_read
from preflight.papers.forms import (
    Certification,
    Choice,
    Count,
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
from preflight.papers.forms.blocks import (
    Part,
    benefit_said,
    enclosed,
    further_sheets,
    headings_missing,
    sheets_of_inventors,
)
from preflight.papers.forms.dates import days_written
from preflight.papers.forms.labels import Asked, Value, blanks, value_at
from preflight.papers.forms.persons import is_organisation
from preflight.papers.forms.pictured import Pictured, pictured
from preflight.papers.forms.s_signatures import Typed, s_signature
from preflight.papers.forms.signatures import laid_on_as_signature, mixed
from preflight.papers.forms.table import Entry as FormEntry
from preflight.papers.forms.table import form_table
from preflight.papers.forms.ticks import choices
from preflight.papers.matter.addresses import WebAddress, web_addresses
from preflight.papers.matter.devices import shared_words
from preflight.papers.matter.headers import foreign_headers
from preflight.papers.matter.identified import dockets_said, titles_said
from preflight.papers.matter.names import Agreement, agreement, names_on, names_said
from preflight.papers.matter.private_numbers import PrivateNumber, private_numbers
from preflight.papers.matter.proposed import FilePaper, Proposal, Proposed, proposed
from preflight.papers.matter.titles import difference, title_candidates, title_of
from preflight.papers.matter.versions import ONE_OF_EACH, Twins, near_twins, text_of
from preflight.papers.model import (
    OTHER,
    SCAN,
    UNKNOWN,
    Declared,
    Filing,
    Kind,
    Paper,
    Role,
    Said,
    Sign,
    is_scanned,
    side_by_side,
    text_unread,
)
from preflight.papers.money.claimed import EntityClaimed, amount_due, entity_claimed
from preflight.papers.money.entity import EntityPicture, entity_said
from preflight.papers.money.fees import FeeLine, sheet_count, size_units, total, worksheet
from preflight.papers.pages.dockets import dockets
from preflight.papers.pages.dockets import fold as fold_docket
from preflight.papers.pages.figures_inside import Inset, insets
from preflight.papers.pages.figures_named import NamedFigure, named_figures
from preflight.papers.pages.highlights import Highlight, highlights
from preflight.papers.pages.leftovers import Marked, Watermark, drawn_watermarks, inserted, struck, written_watermarks
from preflight.papers.pages.listings import Listing, listings
from preflight.papers.pages.own_sheets import PartHeading, part_headings
from preflight.papers.pages.page_numbers import PageNumber, page_numbers
from preflight.papers.pages.repeats import is_blank, repeated
from preflight.papers.pages.running import RunningText, body, running_lines, running_text
from preflight.papers.pages.scanned import as_read
from preflight.papers.pages.setting import (
    Spacing,
    body_lines,
    direction,
    is_tabular,
    smallest_type,
    spacings,
    two_columns,
)
from preflight.papers.pages.sheet_headers import later_label, published_header
from preflight.papers.pages.sheets import (
    FigureLabel,
    SheetNumber,
    figure_labels,
    identification,
    labels_on,
    sheet_numbers,
    sight_ink,
)
from preflight.papers.pages.tables import Small, smallest_in_tables, table_pages
from preflight.papers.pages.tints import Faint, faint_text, luminance
from preflight.papers.pages.views_apart import Views, views_on
from preflight.papers.roles.built_in import BUILT_IN_ROLES
from preflight.papers.roles.form_numbers import office_form
from preflight.papers.roles.split import Contradiction, contradictions, find_papers
from preflight.papers.words.drawn import Drawn, sheet_unread, strings_on
from preflight.papers.words.lettering import flat as flat_text
from preflight.papers.words.rows import line_numbers

__all__ = [
    "BUILT_IN_ROLES",
    "ONE_OF_EACH",
    "OTHER",
    "SCAN",
    "UNKNOWN",
    "Agreement",
    "Asked",
    "Certification",
    "Character",
    "CharacterRow",
    "CharacterTable",
    "Choice",
    "Contradiction",
    "Count",
    "CoverSheet",
    "Declared",
    "Described",
    "Drawn",
    "Early",
    "EntityClaimed",
    "EntityPicture",
    "Faint",
    "FeeLine",
    "FigureLabel",
    "FigureRow",
    "FilePaper",
    "Filing",
    "FormEntry",
    "Highlight",
    "Inset",
    "Inventor",
    "Kind",
    "Listing",
    "Marked",
    "Matched",
    "Mention",
    "NameUse",
    "NamedFigure",
    "NextFree",
    "NotRead",
    "PageNumber",
    "Paper",
    "Part",
    "PartHeading",
    "Pictured",
    "PrivateNumber",
    "Proposal",
    "Proposed",
    "Role",
    "RunningText",
    "Said",
    "SheetNumber",
    "SheetRead",
    "Sign",
    "Signature",
    "Signing",
    "Slip",
    "Small",
    "Spacing",
    "Twins",
    "TwoNames",
    "Typed",
    "Value",
    "Views",
    "Watermark",
    "WebAddress",
    "agreement",
    "amount_due",
    "as_read",
    "benefit_said",
    "blanks",
    "body",
    "body_lines",
    "certification",
    "character_table",
    "characters_on",
    "choices",
    "contradictions",
    "cover_sheet",
    "days_written",
    "described",
    "difference",
    "direction",
    "dockets",
    "dockets_said",
    "drawn_watermarks",
    "enclosed",
    "entity_claimed",
    "entity_said",
    "faint_text",
    "figure_labels",
    "find_papers",
    "flat_text",
    "fold_docket",
    "foreign_headers",
    "form_table",
    "further_sheets",
    "headings_missing",
    "highlights",
    "identification",
    "inserted",
    "insets",
    "inventors",
    "is_blank",
    "is_organisation",
    "is_scanned",
    "is_tabular",
    "labels_on",
    "laid_on_as_signature",
    "later_label",
    "line_numbers",
    "listings",
    "luminance",
    "match",
    "may_be",
    "mixed",
    "modified_parts",
    "named_figures",
    "names_on",
    "names_said",
    "near_twins",
    "numbers_on",
    "office_form",
    "page_numbers",
    "part_headings",
    "pictured",
    "private_numbers",
    "proposed",
    "published_header",
    "repeated",
    "running_lines",
    "running_text",
    "s_signature",
    "says_provisional",
    "serves_as_cover_sheet",
    "shared_words",
    "sheet_count",
    "sheet_numbers",
    "sheet_unread",
    "sheets_of_inventors",
    "sheets_read",
    "side_by_side",
    "sight_ink",
    "signing",
    "size_units",
    "slips",
    "smallest_in_tables",
    "smallest_type",
    "spacings",
    "strings_on",
    "struck",
    "table_pages",
    "text_of",
    "text_unread",
    "title_candidates",
    "title_of",
    "titles_said",
    "total",
    "two_columns",
    "two_names",
    "used_early",
    "usual_height",
    "value_at",
    "views_on",
    "web_addresses",
    "worksheet",
    "written_watermarks",
]
