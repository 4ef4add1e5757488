"""What a PDF says to whoever reads or copies it, by PDFium: the reader that browsers have."""

from __future__ import annotations

import pypdfium2


def text_of(pdf: bytes) -> str:
    """The text of all pages in the order in which it is set, with one space for each gap and line end."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        pages = [page.get_textpage().get_text_range() for page in document]
    finally:
        document.close()
    return " ".join(" ".join(pages).split())
