"""The checks that come with the program."""

from __future__ import annotations

from preflight.checks import drawings, files, matter, money, names, numbering, presence, reading, sheets
from preflight.checks.api import AnyCheck

CHECKS: tuple[AnyCheck, ...] = (
    names.name_characters,
    names.name_extension,
    names.name_length,
    names.name_reserved,
    files.real_type,
    files.encrypted,
    files.pdf_version,
    files.file_size,
    files.fonts,
    sheets.page_size,
    sheets.margins,
    numbering.page_numbering,
    numbering.sheet_numbering,
    drawings.colour,
    drawings.photograph,
    drawings.figures_without_drawings,
    presence.role_present,
    presence.cover_present,
    presence.cover_kind,
    presence.unknown_paper,
    presence.other_files,
    presence.left_out,
    presence.declared_role,
    money.entity_matrix,
    money.fee_amount,
    matter.title_length,
    matter.titles_agree,
    matter.one_matter,
    matter.docket_length,
    matter.two_versions,
    matter.identical_files,
    reading.scan,
)
