"""The language of the window: translations of ours and of Qt's own words, taken up before the first word is shown."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator

TRANSLATIONS = Path(__file__).with_name("translations")


def take_up(application: QCoreApplication, locale: QLocale | None = None, folder: Path = TRANSLATIONS) -> bool:
    """Load folder/tinsheet_<language>.qm for the locale (None: the system's); False where there is none.

    The words are English as they stand, so without a translation nothing is loaded.
    """
    if not folder.is_dir():
        return False
    translator = QTranslator(application)
    if not translator.load(locale or QLocale(), "tinsheet", "_", str(folder)):
        return False
    _take_up_qts_own(application, locale or QLocale())
    return QCoreApplication.installTranslator(translator)


def _take_up_qts_own(application: QCoreApplication, locale: QLocale) -> None:
    """The buttons and menus that Qt brings (Cancel, Copy …), where it has them in this language."""
    translator = QTranslator(application)
    if translator.load(locale, "qtbase", "_", QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)):
        QCoreApplication.installTranslator(translator)
