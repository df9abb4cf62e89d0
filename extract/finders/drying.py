"""The stages of drying, with temperature and method."""

from __future__ import annotations

from collections.abc import Iterator

from extract.claims import Claim, Topic
from extract.document import Document
from extract.figures.claims import claims_of
from extract.figures.reading import read_figures
from extract.terms import SubjectNames, Vocabulary


def find(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """Claims of the topic drying."""
    yield from claims_of(read_figures(document), Topic.DRYING, vocabulary)
