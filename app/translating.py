"""Every word that the program says goes through Qt's translation from here. No Qt: the command line says the same.

`pyside6-lupdate` finds calls of `translate("context", "words")` and of `self.tr("words")`. Words with figures in them
are filled in after translation, by name: `translate("window", "{count} wait").format(count=3)`.
"""

from __future__ import annotations

import sys


def translate(context: str, words: str) -> str:
    """The words in the language that Qt was given, or as they stand where Qt is not running or has none."""
    core = sys.modules.get("PySide6.QtCore")
    if core is None:
        return words
    translated: str = core.QCoreApplication.translate(context, words)
    return translated


def QT_TRANSLATE_NOOP(context: str, words: str) -> str:
    """Marks words that are translated later, where they are shown. The name is the one that `pyside6-lupdate` knows."""
    return words
