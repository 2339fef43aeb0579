"""Sheets to print and file: pages of plain facts, and the printers that turn one into HTML, SVG or PDF."""
