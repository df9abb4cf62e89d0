from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.library import Library


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "Werkstatt ü ñ 漆 'n \"o"


@pytest.fixture
def library(folder: Path) -> Iterator[Library]:
    with Library.open(folder, who="Ines") as opened:
        yield opened
