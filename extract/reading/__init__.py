"""PDF bytes -> pages of characters, rules and pictures, in displayed coordinates."""

from extract.reading.pages import Page, Sheet, open_sheet

__all__ = ["Page", "Sheet", "open_sheet"]
