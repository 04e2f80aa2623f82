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


def to_page(report: Report, *, reloading: bool = False) -> str:
    """The whole page. All text from papers is made harmless first, then escaped.

    `reloading`: it is written anew again and again, and shows the newest by itself; for this alone it has a script.
    """
    style = _beside("style.css")
    script = _beside("reload.js") if reloading else ""
    return _TEMPLATES.get_template("page.html").render(
        begins=Markup(PAGE_BEGINS.decode()),  # noqa: S704 - our own words
        page=view_of(report),
        style=Markup(style),  # noqa: S704 - our own file
        script=Markup(script),  # noqa: S704 - our own file
        policy=_policy(style, script),
    )


def _beside(name: str) -> str:
    return (files(__name__) / name).read_text(encoding="utf-8")


def _policy(style: str, script: str) -> str:
    """What a browser may do for the page: show the pictures, follow the style sheet and run the script in it."""
    runs = f"script-src {_source(script)}; " if script else ""
    return f"default-src 'none'; img-src data:; style-src {_source(style)}; {runs}base-uri 'none'; form-action 'none'"


def _source(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


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
