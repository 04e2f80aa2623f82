"""The kit for tests of checks and rulebooks, for plug-in authors as for this project.

Build what a check looks at from a few words (`page`, `file_facts`, `paper`, `filing`), keep examples of each
requirement as data (`load_cases`, `run_case`, `assert_case`), walk a rulebook (`rulebook`, `requirements`), and judge
a whole filing (`judged`).
"""

from preflight.testing.building import file_facts, filing, page, paper
from preflight.testing.cases import KINDS, Case, assert_case, load_cases, run_case
from preflight.testing.sources import flat, requirements, rulebook
from preflight.testing.whole import judged

__all__ = [
    "KINDS",
    "Case",
    "assert_case",
    "file_facts",
    "filing",
    "flat",
    "judged",
    "load_cases",
    "page",
    "paper",
    "requirements",
    "rulebook",
    "run_case",
]
