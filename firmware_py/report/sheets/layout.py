"""Strips set one under another on as many leaves of paper as they need."""

from __future__ import annotations

from dataclasses import dataclass, field

from firmware_py.report.sheets.page import PAPERS_MM, Page, Paper
from firmware_py.report.sheets.strip import Item, Measure, Strip, moved
from firmware_py.report.sheets.strips import Setter

EDGE_MM, BINDING_MM, LABEL_EDGE_MM = 10.0, 20.0, 5.0


@dataclass(slots=True)
class Leaf:
    """One piece of paper, so large [mm], and what stands on it, from its top left."""

    width_mm: float
    height_mm: float
    items: list[Item] = field(default_factory=list)


def leaves_of(page: Page, paper: Paper, measure: Measure) -> list[Leaf]:
    """Return the page laid out on leaves of ``paper``."""
    left_mm, edge_mm, width_mm, height_mm = _frame(paper)
    leaves = [Leaf(*PAPERS_MM[paper])]
    y_mm = edge_mm
    for group in _groups(_strips(page, paper, width_mm, measure)):
        high_mm = sum(strip.height_mm for strip in group)
        if y_mm + high_mm > edge_mm + height_mm and leaves[-1].items:
            leaves.append(Leaf(*PAPERS_MM[paper]))
            y_mm = edge_mm
        for strip in group:
            leaves[-1].items += [moved(item, left_mm, y_mm) for item in strip.items]
            y_mm += strip.height_mm
    return leaves


def long_leaf_of(page: Page, paper: Paper, measure: Measure) -> Leaf:
    """Return the page on one leaf of the paper's width, and as much longer as it needs."""
    left_mm, edge_mm, width_mm, _ = _frame(paper)
    leaf = Leaf(*PAPERS_MM[paper])
    y_mm = edge_mm
    for strip in _strips(page, paper, width_mm, measure):
        leaf.items += [moved(item, left_mm, y_mm) for item in strip.items]
        y_mm += strip.height_mm
    leaf.height_mm = max(leaf.height_mm, y_mm + edge_mm)
    return leaf


def _frame(paper: Paper) -> tuple[float, float, float, float]:
    """Return left edge, upper edge, width and height [mm] of what may be printed on."""
    wide, high = PAPERS_MM[paper]
    if paper == "label":
        return LABEL_EDGE_MM, LABEL_EDGE_MM, wide - 2 * LABEL_EDGE_MM, high - 2 * LABEL_EDGE_MM
    return BINDING_MM, EDGE_MM, wide - BINDING_MM - EDGE_MM - 2, high - 2 * EDGE_MM


def _strips(page: Page, paper: Paper, width_mm: float, measure: Measure) -> list[Strip]:
    return list(Setter(width_mm, 2 if paper == "label" else 3, measure).page(page))


def _groups(strips: list[Strip]) -> list[list[Strip]]:
    """Return the strips in groups that stay together: those to be kept with the next one, and that."""
    groups: list[list[Strip]] = []
    held: list[Strip] = []
    for strip in strips:
        held.append(strip)
        if not strip.keep:
            groups.append(held)
            held = []
    return [*groups, held] if held else groups
