"""Addresses of web pages in the words of a page."""

from __future__ import annotations

import re
from collections.abc import Iterable

import msgspec

from preflight.facts import Box, Page

_CODE = re.compile(r"\bxmlns\b|\bxsi:|\bschemaLocation\b|\btargetNamespace\b|<!DOCTYPE\b", re.IGNORECASE)
"""A line of program code in which an address only names something."""
_END = ".,;:!?\"')]}>\u201d\u2019"


class WebAddress(msgspec.Struct, frozen=True):
    """An address; `names_only` if it is a name space in program code rather than a place to go to."""

    text: str
    page: int
    box: Box
    names_only: bool = False


def web_addresses(page: Page, beginnings: Iterable[str]) -> tuple[WebAddress, ...]:
    """The words that begin like a web address and go on; "http:// requests" is none."""
    begins = "|".join(re.escape(one) for one in beginnings)
    address = re.compile(rf"(?<![\w@.\-])(?:{begins})[^\s<>\"]+", re.IGNORECASE)
    bare = re.compile(rf"(?:{begins})\W*", re.IGNORECASE)
    return tuple(
        WebAddress(text, page.number, line.box, bool(_CODE.search(line.text)))
        for line in page.lines
        if line.visible
        for text in (found.rstrip(_END) for found in address.findall(line.text))
        if not bare.fullmatch(text)
    )
