"""Reads a report back: the text of every page, spaces and break points evened out."""

import re

import pypdfium2


def pages_of(pdf: bytes) -> list[str]:
    """Return the text of each page as it is read, from top to bottom."""
    with pypdfium2.PdfDocument(pdf) as document:
        return [_text_of(document, at) for at in range(len(document))]


def _text_of(document: pypdfium2.PdfDocument, at: int) -> str:
    page = document[at]
    words = page.get_textpage()
    told = words.get_text_range().replace("\u200b", "")
    words.close()
    page.close()
    return re.sub(r"\s+", " ", told)
