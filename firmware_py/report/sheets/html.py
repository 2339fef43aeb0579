"""The page as HTML that needs nothing from outside: the master of every sheet."""

from __future__ import annotations

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from firmware_py.report.sheets.page import PAPERS_MM, Curve, Page, Paper
from firmware_py.report.told import plain


def html_of(page: Page, paper: Paper) -> bytes:
    """Return the page as self-contained HTML (UTF-8) for ``paper``."""
    width_mm, height_mm = PAPERS_MM[paper]
    template = _environment().get_template("page.html.j2")
    text = template.render(page=page, width_mm=width_mm, height_mm=height_mm, small=paper == "label")
    return text.encode("utf-8")


def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("firmware_py.report.sheets"),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_printable,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["picture"] = _picture
    return environment


def _printable(value: object) -> object:
    """Return what an expression in the template prints: text without signs that are not printable."""
    return value if isinstance(value, Markup) else plain(str(value))


def _picture(curve: Curve) -> Markup:
    # Here, so that a page without a curve does without matplotlib.
    from firmware_py.report.sheets.plot import curve_svg

    return Markup(curve_svg(curve))  # noqa: S704 - made by matplotlib from numbers
