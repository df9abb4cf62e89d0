"""Tests run without a screen, and any warning of Qt fails the test that caused it."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
# The offscreen plugin would otherwise ask the desktop's services for a theme.
os.environ["QT_QPA_PLATFORMTHEME"] = ""

# Said by Qt's offscreen plugin itself whatever a program does.
_OF_THE_PLUGIN = ("This plugin does not support",)


@pytest.fixture(autouse=True)
def qt_warnings_fail(request: pytest.FixtureRequest) -> Iterator[None]:
    """Fail on any message of Qt at the level of a warning or above."""
    if not {"qtbot", "qapp"} & set(request.fixturenames):
        yield
        return
    from PySide6.QtCore import QtMsgType, qInstallMessageHandler  # noqa: PLC0415 - only where Qt is used

    said: list[str] = []

    def hear(kind: QtMsgType, _: object, words: str) -> None:
        if kind not in (QtMsgType.QtDebugMsg, QtMsgType.QtInfoMsg) and not words.startswith(_OF_THE_PLUGIN):
            said.append(words)

    before = qInstallMessageHandler(hear)
    yield
    qInstallMessageHandler(before)
    assert not said, f"Qt warned: {said}"
