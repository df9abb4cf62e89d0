"""Every word that the program says goes through Qt's translation from here. No Qt: the command line says the same.

`pyside6-lupdate` finds calls of `translate("context", "words")` and of `self.tr("words")`. Words with figures in them
are filled in after translation, by name: `translate("window", "{count} wait").format(count=3)`. Words that change with
a number go through a `Counting`, so that a language with more than two forms has them all.
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


class Counting:
    """Counted words of one context. lupdate takes the name of the variable that holds it for the context:

    `figures = Counting("figures")`, then `figures.tr("%n days", "%n day", count)`.
    """

    def __init__(self, context: str) -> None:
        self._context = context

    def tr(self, many: str, one: str, count: int) -> str:
        """The words in the form that goes with count, %n filled in; one is English for a single one."""
        english = (one if count == 1 else many).replace("%n", str(count))
        core = sys.modules.get("PySide6.QtCore")
        if core is None:
            return english
        translated: str = core.QCoreApplication.translate(self._context, many, one, count)
        return english if translated == many.replace("%n", str(count)) else translated
