"""Rows of words on a page, and which of them are headings."""
