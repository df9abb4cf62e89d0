"""Which reader this is. Alone in its module, so that asking costs nothing of the reader itself."""

from __future__ import annotations

READER_VERSION = "4"
"""Raised whenever the same PDF may give other claims, so that a library knows which sheets to read again."""
