"""Over the list of sheets: that an older reader read some, the offer to read them again, and what came of it."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QLabel, QPlainTextEdit, QProgressBar, QPushButton, QVBoxLayout, QWidget

from app.flow import FlowLayout
from app.reading_again.work import ReadingAgain
from app.theme.text_size import fix_height, fix_width
from app.theme.theme import GRID, set_look


class ReadingAgainBar(QFrame):
    """Hidden while there is nothing to offer and nothing to tell."""

    def __init__(self, work: ReadingAgain, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._work = work
        set_look(self, "card")
        self.setAccessibleName(self.tr("Sheets of an older reader"))
        self._words = QLabel(self)
        self._words.setWordWrap(True)
        self._bar = QProgressBar(self)
        self._bar.setTextVisible(False)
        self._bar.setAccessibleName(self.tr("Files read again"))
        fix_width(self._bar, 25 * GRID)
        self.read_button = QPushButton(self.tr("Read them again"), self)
        set_look(self.read_button, "primary")
        self.stop_button = QPushButton(self.tr("Stop"), self)
        self.away_button = QPushButton(self.tr("Put this away"), self)
        self.found = QPlainTextEdit(self)
        self.found.setReadOnly(True)
        self.found.setAccessibleName(self.tr("What reading again came to"))
        self.found.setTabChangesFocus(True)
        fix_height(self.found, 20 * GRID)
        deeds = QWidget(self)
        flow = FlowLayout(deeds, GRID)
        for widget in (self.read_button, self.stop_button, self._bar, self.away_button):
            flow.addWidget(widget)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, GRID, 2 * GRID, GRID)
        column.setSpacing(GRID)
        column.addWidget(self._words)
        column.addWidget(deeds)
        column.addWidget(self.found)
        self.read_button.clicked.connect(self._on_begin)
        self.stop_button.clicked.connect(work.stop)
        self.away_button.clicked.connect(self._on_put_away)
        work.older_found.connect(self._on_older_found)
        work.file_done.connect(self._on_file_done)
        work.ended.connect(self._on_ended)
        self._put_away = False
        self._older = 0
        self._show(running=False)
        self.hide()

    @property
    def words(self) -> str:
        return self._words.text()

    # --- inside

    def _show(self, *, running: bool) -> None:
        told = bool(self.found.toPlainText())
        self.read_button.setVisible(not running and self._older > 0)
        self.stop_button.setVisible(running)
        self._bar.setVisible(running)
        self.away_button.setVisible(not running)
        self.found.setVisible(told and not running)
        self.setVisible(running or told or (self._older > 0 and not self._put_away))

    def _on_older_found(self, older: int) -> None:
        self._older = older
        if older:
            self._words.setText(
                self.tr(
                    "An older version of the program read {count} of these sheets. Read again, they may say more, or "
                    "something else: your decisions stay, and what is new or gone is listed."
                ).format(count=older)
            )
        elif self.found.toPlainText():
            self._words.setText(self.tr("Every sheet has been read by this version of the program."))
        self._show(running=self._work.running)

    def _on_begin(self) -> None:
        self.found.clear()
        self._put_away = False
        self._work.begin()

    def _on_file_done(self, done: int, of: int) -> None:
        self._bar.setRange(0, max(of, 1))
        self._bar.setValue(done)
        self._words.setText(self.tr("Reading again: {done} of {of} files").format(done=done, of=of))
        self._show(running=True)

    def _on_ended(self, lines: tuple[str, ...]) -> None:
        self.found.setPlainText("\n".join(lines))
        self._show(running=False)

    def _on_put_away(self) -> None:
        self.found.clear()
        self._put_away = True
        self._show(running=False)
