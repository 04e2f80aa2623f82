"""The filing folder as it stands on disk, and what the filer declares about it."""

from preflight.bundle.declaring import with_entry, without_entry
from preflight.bundle.digests import digests_of
from preflight.bundle.filing import declaration_text, read_declared
from preflight.bundle.folder import is_trace_of_a_program, no_folder, read_file, read_folder
from preflight.bundle.settling import settle
from preflight.facts.declared import DECLARATION

__all__ = [
    "DECLARATION",
    "declaration_text",
    "digests_of",
    "is_trace_of_a_program",
    "no_folder",
    "read_declared",
    "read_file",
    "read_folder",
    "settle",
    "with_entry",
    "without_entry",
]
