"""What the filer calls each document on the office's upload page, as data."""

from __future__ import annotations

from typing import Literal

import msgspec


class DocumentDescription(msgspec.Struct, frozen=True, kw_only=True):
    """One description that can be chosen, with the code that the office keeps it under."""

    code: str
    description: str
    role: str
    """The paper of ours that it is for."""
    new_filing: Literal["yes", "no", "by hand"]
    """Whether it is offered at the first filing; by hand: the sources do not settle it."""
    form: str | None = None
    """The one form that goes up under it, where a code belongs to a form."""
    note: str = ""
    citation: str
    known: str
