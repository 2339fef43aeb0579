"""Makes each page when it is first opened: a screen that starts must not wait for all of them."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import cast

from tui.pages.shared.page import Page
from tui.pages.shared.page_names import PageName


def open_page(page: PageName) -> Page:
    """Return a new page: the class ``<Name>Page`` of ``tui/pages/<name>/page.py``."""
    module = import_module(f"tui.pages.{page}.page")
    return cast("Callable[[], Page]", getattr(module, f"{page.capitalize()}Page"))()
