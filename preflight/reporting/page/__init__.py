"""The report as a page: one file that a browser opens without network and without scripts."""

from __future__ import annotations

import base64
import hashlib
from importlib.resources import files

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from preflight.reporting.page.view import view_of
from preflight.reporting.renderer import PAGE_BEGINS
from preflight.reporting.report import Report
from preflight.reporting.wording import clean

__all__ = ["to_page"]


def to_page(report: Report) -> str:
    """The whole page. All text from papers is made harmless first, then escaped."""
    style = (files(__name__) / "style.css").read_text(encoding="utf-8")
    return _TEMPLATES.get_template("page.html").render(
        begins=Markup(PAGE_BEGINS.decode()),  # noqa: S704 - our own words
        page=view_of(report),
        style=Markup(style),  # noqa: S704 - our own file
        policy=_policy(style),
    )


def _policy(style: str) -> str:
    """What a browser may do for the page: show pictures that it holds, and follow its one style sheet."""
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    return f"default-src 'none'; img-src data:; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"


def _harmless(value: object) -> object:
    """The second net: whatever the template writes is made harmless, also what nobody thought of."""
    return clean(value) if isinstance(value, str) and not isinstance(value, Markup) else value


_TEMPLATES = Environment(
    loader=PackageLoader(__name__, "."),
    autoescape=True,
    finalize=_harmless,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
    keep_trailing_newline=True,
)
