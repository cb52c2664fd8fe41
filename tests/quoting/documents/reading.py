"""Readers of PDFs that are not ours: pypdf for the parts, pdftotext for the words."""

import io
import subprocess
from collections.abc import Iterator
from typing import Any

from pypdf import PdfReader


def parts_of(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf))


def words_of(pdf: bytes) -> str:
    """In the order in which it was set, with all white space made single spaces."""
    said = subprocess.run(
        ["pdftotext", "-raw", "-", "-"], input=pdf, capture_output=True, check=True
    ).stdout.decode()
    return " ".join(said.split())


def structure_of(pdf: bytes) -> Iterator[dict[str, Any]]:
    """Every element of the tag tree, depth first."""
    yield from _below(parts_of(pdf).trailer["/Root"]["/StructTreeRoot"])


def _below(element: Any) -> Iterator[dict[str, Any]]:
    kids = element.get("/K", [])
    for kid in kids if isinstance(kids, list) else [kids]:
        kid = kid.get_object()
        if isinstance(kid, dict) and "/S" in kid:
            yield kid
            yield from _below(kid)
