"""The turns of speech of vocabulary/<language>/speech.toml, compiled once."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib import resources

from extract.mention import OTHER, THIS

Speech = Mapping[str, re.Pattern[str]]


@cache
def speech(language: str = "en") -> Speech:
    """Each entry of the file by its name, whatever its table. Raises FileNotFoundError for a language without one."""
    path = resources.files("extract.vocabulary").joinpath(language, "speech.toml")
    raw: dict[str, dict[str, str | list[str]]] = tomllib.loads(path.read_text("utf-8"))
    return {name: _compiled(words) for table in raw.values() for name, words in table.items()}


def _compiled(words: str | list[str]) -> re.Pattern[str]:
    body = words if isinstance(words, str) else rf"\b(?:{'|'.join(words)})\b"
    return re.compile(body.replace("{this}", THIS).replace("{other}", OTHER))
