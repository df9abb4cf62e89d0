"""Translations made for tests by Qt's own tools: every message of the program in other words."""

from __future__ import annotations

import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from xml.etree import ElementTree as Tree

import PySide6
from PySide6.QtCore import QCoreApplication, QLocale, QTranslator
from PySide6.QtWidgets import QApplication

from app.language import take_up

ROOT = Path(__file__).parents[1]
SOURCES = sorted(p for p in (ROOT / "app").rglob("*.py") if "command_line" not in p.parts and p.name != "set_up.py")
"""All that says something in the window."""

_TOOLS = Path(PySide6.__file__).parent


def _run(*command: str | Path) -> None:
    subprocess.run([str(part) for part in command], check=True, capture_output=True)


def translated(folder: Path, changed: Callable[[str], str]) -> Path:
    """The folder, with a whole German translation in it that says changed(English) for every message."""
    ts = folder / "tinsheet_de.ts"
    _run(_TOOLS / "lupdate", *SOURCES, "-ts", ts, "-target-language", "de_DE")
    tree = Tree.parse(ts)  # noqa: S314 - written by lupdate a moment ago
    for message in tree.iter("message"):
        translation = message.find("translation")
        assert translation is not None
        translation.attrib.pop("type", None)
        source, one = message.findtext("source", ""), message.findtext("comment", "")
        if message.get("numerus") == "yes":
            # German has two forms, the first for one.
            for form, words in zip(translation.iter("numerusform"), (one, source), strict=True):
                form.text = changed(words)
        else:
            translation.text = changed(source)
    tree.write(ts, encoding="utf-8", xml_declaration=True)
    _run(_TOOLS / "lrelease", ts, "-qm", folder / "tinsheet_de.qm")
    return folder


@contextmanager
def spoken(application: QApplication, folder: Path) -> Iterator[None]:
    """The program in the folder's language for as long as it lasts."""
    before = set(application.findChildren(QTranslator))
    assert take_up(application, QLocale("de_DE"), folder)
    try:
        yield
    finally:
        for translator in set(application.findChildren(QTranslator)) - before:
            QCoreApplication.removeTranslator(translator)
            translator.deleteLater()
