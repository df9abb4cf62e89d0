"""The tin: how long it keeps, and at which temperature."""

from __future__ import annotations

from collections.abc import Iterator

from extract.claims import Claim, Topic
from extract.document import Document
from extract.figures.claims import claims_of
from extract.figures.reading import read_figures
from extract.terms import SubjectNames, Vocabulary


def find(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """Claims of the topic storage."""
    yield from claims_of(read_figures(document), Topic.STORAGE, vocabulary)
