"""The style sheet, written from the roles. A look is a dynamic property: see theme.set_look."""

from __future__ import annotations

from collections.abc import Mapping
from string import Template

from app.theme.roles import Role
from app.theme.text_size import HEAD, LARGE, LEAD, SMALL

_SIZES = {"small": SMALL, "lead": LEAD, "head": HEAD, "large": LARGE}

_LINE = 18
"""A line of the smallest text in pixels, at 100 %."""

_SHEET = Template("""
* { outline: 0; }
QWidget { font-size: ${small}pt; }
QToolTip { background: $raised; color: $ink; border: 1px solid $edge; padding: 4px 8px; }
QMainWindow, QDialog, QWidget[look="paper"] { background: $paper; }
QWidget[look="raised"] { background: $raised; }
QLabel { background: transparent; }
QLabel[look="small"], QLabel[look="quiet"] { color: $quiet; }
QLabel[look="lead"] { font-size: ${lead}pt; }
QLabel[look="beside"] { padding-top: 8px; qproperty-indent: 0; }
QLabel[look="head"] { font-size: ${head}pt; font-weight: 600; }
QLabel[look="large"] { font-size: ${large}pt; font-weight: 600; }
QLabel[look="topic"] { font-size: ${lead}pt; font-weight: 600; }
QLabel[look="quote"] { background: $lit; color: $ink; border-radius: 4px; padding: 8px; }
QLabel[look="caution"], QFrame[look="caution"] {
    background: $caution; color: $ink; border-left: 4px solid $yes_if; padding: 8px 12px; }
QFrame[look="caution"] { padding: 0; }
QLabel[look="caution"] { padding: 8px 12px; }
QFrame[look="caution"] QLabel { padding: 0; }
QFrame[look="trouble"] { background: $raised; border: 1px solid $no; border-left: 4px solid $no; border-radius: 4px; }
QFrame[look="card"] { background: $raised; border: 1px solid $line; border-radius: 6px; }
QFrame[look="rule"] { background: $line; border: 0; max-height: 1px; min-height: 1px; }
QLabel[look="key"] {
    color: $ink; background: $paper; border: 1px solid $edge; border-bottom-width: 2px;
    border-radius: 4px; padding: 1px 6px; }

QPushButton {
    background: $raised; color: $ink; border: 1px solid $edge; border-radius: 6px;
    padding: 7px 16px; min-height: ${row}px; }
QPushButton:hover { border-color: $accent; }
QPushButton:focus { border: 2px solid $accent; padding: 6px 15px; }
QPushButton:pressed, QPushButton:checked { background: $chosen; }
QPushButton:disabled { color: $quiet; background: $paper; border: 1px dashed $edge; }
QPushButton[look="primary"] { background: $accent; color: $on_accent; border-color: $accent; font-weight: 600; }
QPushButton[look="primary"]:focus { border: 2px solid $ink; }
QPushButton[look="primary"]:disabled { background: $paper; color: $quiet; }
QPushButton[look="deed"] { padding: 7px 8px; }
QPushButton[look="deed"]:focus { padding: 6px 7px; }
QPushButton[look="first_deed"] {
    background: $accent; color: $on_accent; border-color: $accent; font-weight: 600; padding: 7px 8px; }
QPushButton[look="first_deed"]:focus { border: 2px solid $ink; padding: 6px 7px; }
QPushButton[look="first_deed"]:disabled { background: $paper; color: $quiet; }
QPushButton[look="link"] {
    background: transparent; border: 1px solid transparent; color: $accent; padding: 3px 4px; text-align: left;
    text-decoration: underline; }
QPushButton[look="link"]:focus { border: 1px solid $accent; }
QToolButton {
    background: transparent; color: $ink; border: 1px solid transparent; border-radius: 6px; padding: 5px 8px; }
QToolButton:hover { border-color: $edge; }
QToolButton:focus { border-color: $accent; }
QToolButton:checked { background: $chosen; }

QLineEdit, QComboBox, QSpinBox, QDoubleSpinBox, QPlainTextEdit, QTextEdit {
    background: $raised; color: $ink; border: 1px solid $edge; border-radius: 6px; padding: 6px 8px;
    selection-background-color: $accent; selection-color: $on_accent; }
QLineEdit, QPlainTextEdit, QTextEdit { placeholder-text-color: $quiet; }
QLineEdit:focus, QComboBox:focus, QSpinBox:focus, QDoubleSpinBox:focus, QPlainTextEdit:focus, QTextEdit:focus {
    border: 2px solid $accent; padding: 5px 7px; }
QLineEdit[look="lead"] { font-size: ${lead}pt; }
QComboBox::drop-down { border: 0; width: 20px; }
QComboBox::down-arrow { image: url($chevron); width: 12px; height: 12px; }
QComboBox QAbstractItemView { background: $raised; color: $ink; border: 1px solid $edge;
    selection-background-color: $accent; selection-color: $on_accent; }
QCheckBox { spacing: 8px; color: $ink; }
QCheckBox:focus { color: $accent; }
QCheckBox::indicator { width: 16px; height: 16px; border: 1px solid $edge; border-radius: 3px; background: $raised; }
QCheckBox::indicator:focus { border: 2px solid $accent; }
QCheckBox::indicator:checked { background: $accent; border-color: $accent; image: url($check); }

QAbstractItemView {
    background: $raised; alternate-background-color: $paper; color: $ink; border: 1px solid $line;
    gridline-color: $line; selection-background-color: $chosen; selection-color: $ink; }
QAbstractItemView:focus { border: 1px solid $accent; }
QTableView::item { padding: 0 8px; }
QHeaderView::section {
    background: $paper; color: $quiet; border: 0; border-bottom: 1px solid $edge; padding: 8px; font-weight: 600; }
QTableCornerButton::section { background: $paper; border: 0; }

QListWidget[look="places"] {
    background: $paper; border: 0; border-right: 1px solid $line; font-size: ${lead}pt; padding: 8px 0; }
QListWidget[look="places"]:focus { border: 0; border-right: 1px solid $accent; }
QListWidget[look="places"]::item { padding: 10px 12px; border-left: 4px solid transparent; color: $ink; }
QListWidget[look="places"]::item:selected { background: $chosen; border-left: 4px solid $accent; color: $ink; }

QListView[look="offers"] { font-size: ${small}pt; }
QListWidget[look="choices"] { border-radius: 6px; padding: 4px 0; }
QListWidget[look="choices"]::item { padding: 8px 12px; border-left: 4px solid transparent; color: $ink; }
QListWidget[look="choices"]::item:selected { background: $chosen; border-left: 4px solid $accent; color: $ink; }

QProgressBar { background: $line; border: 0; border-radius: 4px; max-height: 8px; min-height: 8px; color: transparent; }
QProgressBar::chunk { background: $accent; border-radius: 4px; }
QSplitter::handle { background: transparent; }
QSplitter::handle:hover { background: $accent; }
QScrollArea { background: transparent; border: 0; }
QScrollArea > QWidget > QWidget { background: transparent; }
QGraphicsView { background: $line; border: 0; }
QGraphicsView:focus { border: 2px solid $accent; }
QMenuBar { background: $paper; color: $ink; border-bottom: 1px solid $line; }
QMenuBar::item { padding: 4px 8px; }
QMenuBar::item:selected { background: $chosen; }
QMenu { background: $raised; color: $ink; border: 1px solid $edge; padding: 4px 0; }
QMenu::item { padding: 6px 24px 6px 16px; }
QMenu::item:selected { background: $chosen; color: $ink; }
QMenu::item:disabled { color: $quiet; }
QStatusBar { background: $paper; color: $quiet; }
QScrollBar:vertical { background: $paper; width: 12px; margin: 0; }
QScrollBar:horizontal { background: $paper; height: 12px; margin: 0; }
QScrollBar::handle { background: $edge; border-radius: 4px; border: 2px solid $paper; }
QScrollBar::handle:vertical { min-height: 32px; }
QScrollBar::handle:horizontal { min-width: 32px; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
""")


def style_sheet(roles: Mapping[Role, str], chevron: str = "none", check: str = "none", *, percent: int = 100) -> str:
    """The whole program's style sheet. chevron, check: paths of the pictures for a combo's arrow and a tick. percent:
    the size of all text."""
    sizes = {name: f"{points * percent / 100:g}" for name, points in _SIZES.items()}
    # A button is never lower than a line of its words: this height counts for more than what it would ask for.
    row = f"{_LINE * percent // 100}"
    return _SHEET.substitute(
        {role.value: colour for role, colour in roles.items()}, chevron=chevron, check=check, row=row, **sizes
    )
