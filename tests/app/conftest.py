"""The program spoken in another alphabet, for tests that look for words which came past their translation."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from other_alphabet import marked
from PySide6.QtWidgets import QApplication
from translation_kit import spoken, translated


@pytest.fixture(scope="session")
def other_alphabet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return translated(tmp_path_factory.mktemp("translations"), marked)


@pytest.fixture
def spoken_otherwise(qapp: QApplication, other_alphabet: Path) -> Iterator[None]:
    with spoken(qapp, other_alphabet):
        yield
