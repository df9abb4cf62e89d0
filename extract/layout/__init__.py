"""Pages -> Document: columns, reading order, headings, lists, tables, footnotes."""

from extract.layout.build import build, build_pages

__all__ = ["build", "build_pages"]
