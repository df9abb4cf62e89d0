"""Whether a form holds something typed that is kept nowhere yet; such a form is not left by a slip."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QPlainTextEdit, QWidget

from app.translating import translate


class HalfTyped:
    """`more` gives what the form holds besides its fields; `say` shows words in it; `leave` lets it go."""

    def __init__(
        self,
        form: QWidget,
        say: Callable[[str], None],
        leave: Callable[[], object],
        more: Callable[[], object] = lambda: None,
    ) -> None:
        self._form, self._say, self._leave, self._more = form, say, leave, more
        self._before = self._warned_of = self._now()

    def begin(self) -> None:
        """What the form shows now is not typed: it was opened so."""
        self._before = self._warned_of = self._now()

    @property
    def touched(self) -> bool:
        return self._now() != self._before

    def hold(self) -> bool:
        """Whether the form has to stay, which it then says."""
        if not self.touched:
            return False
        self._warned_of = self._now()
        self._say(translate("forms", "What is typed here is not kept yet. Keep it, or leave it with Esc."))
        return True

    def escape(self) -> None:
        """Leave the form; where something is typed only once it has been said that this is lost."""
        now = self._now()
        if now not in (self._before, self._warned_of):
            self._warned_of = now
            self._say(translate("forms", "What is typed here is not kept yet. Esc once more leaves it."))
        else:
            self._leave()

    def _now(self) -> tuple[object, ...]:
        fields = self._form.findChildren(QWidget)
        return (*(state for field in fields if (state := _state(field)) is not None), self._more())


def _state(field: QWidget) -> object:
    if isinstance(field, QLineEdit):
        return field.text()
    if isinstance(field, QPlainTextEdit):
        return field.toPlainText()
    if isinstance(field, QComboBox):
        return field.currentIndex()
    return field.isChecked() if isinstance(field, QCheckBox) else None
