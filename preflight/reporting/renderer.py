"""Forms of output: how plug-ins declare them, and those that come with the program."""

from __future__ import annotations

import importlib
import io
from collections.abc import Callable

import msgspec
from rich.console import Console

from preflight.reporting.machine import to_json
from preflight.reporting.report import Report
from preflight.reporting.terminal import show_report

_TEXT_WIDTH = 100
PAGE_BEGINS = b"<!doctype html>\n<!-- preflight-page/1 -->"
"""By this a page of ours is known again."""


class Renderer(msgspec.Struct, frozen=True):
    """A form of output. `render` is a pure function of the report; text is written as UTF-8.

    `name` is what a person types: `preflight check FOLDER --write NAME FILE`.
    """

    name: str
    render: Callable[[Report], bytes | str]
    media_type: str
    pictures: bool = False
    """Whether it shows the pictures in the report: they are made only then."""
    pages: bool = False
    """Whether it shows whole pages (`Report.page_pictures`)."""
    watched: Callable[[Report], bytes | str] | None = None
    """In its place while `check --watch` writes it anew after each change: it follows by itself."""

    def bytes_of(self, report: Report, *, watched: bool = False) -> bytes:
        """What belongs into the file."""
        made = self.watched(report) if watched and self.watched else self.render(report)
        return made.encode("utf-8", "backslashreplace") if isinstance(made, str) else made


def to_text(report: Report) -> str:
    """The terminal report without colour, for a file."""
    page = io.StringIO()
    show_report(report, Console(file=page, width=_TEXT_WIDTH, color_system=None, force_terminal=False))
    return page.getvalue()


def to_page(report: Report, *, reloading: bool = False) -> str:
    """The page for people, one self-contained HTML file."""
    making = importlib.import_module("preflight.reporting.page")  # its library is loaded by whoever writes a page
    return str(making.to_page(report, reloading=reloading))


def _reloading_page(report: Report) -> str:
    return to_page(report, reloading=True)


BUILT_IN_RENDERERS = (
    Renderer(name="text", render=to_text, media_type="text/plain; charset=utf-8"),
    Renderer(name="json", render=to_json, media_type="application/json", pictures=True),
    Renderer(
        name="html",
        render=to_page,
        media_type="text/html; charset=utf-8",
        pictures=True,
        pages=True,
        watched=_reloading_page,
    ),
)
