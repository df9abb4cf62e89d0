"""What the main window asks of a place in it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.tab_order import put_in_order
from app.theme.theme import set_look
from app.translating import translate


class Place(QWidget):
    """One place of the job: a folder of app/ with a view that inherits this.

    `name` is its key ('asking'), `title` the word down the side ('Ask'), `icon_name` a drawing of theme/icons. A
    class notes its title for translation by QT_TRANSLATE_NOOP("places", "Ask"); a place has it translated.

    Signals: evidence_opened(sheet_id, page, boxes) asks the window to show words on their page, lit; boxes are those
    of extract.claims.Evidence. place_wanted(name, payload) asks it to go elsewhere, with what `come_with` understands.
    """

    evidence_opened = Signal(int, int, object)
    place_wanted = Signal(str, object)

    name = ""
    title = ""
    icon_name = ""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = translate("places", type(self).title)
        set_look(self, "paper")
        self.setAccessibleName(self.title)

    def activated(self) -> None:
        """The place came to the front: take the keyboard, look again if something changed meanwhile."""

    def come_with(self, payload: object) -> None:
        """The person came from elsewhere with something in hand (a sheet id, a product id, words)."""

    def keep(self) -> None:
        """The window closes: remember sizes and last choices."""

    def focusNextPrevChild(self, forward: bool) -> bool:
        # Cards and rows that were made meanwhile stand at the end of Qt's chain until they are put where they are read.
        put_in_order(self)
        return super().focusNextPrevChild(forward)
