"""Made-up cases are judged by what comes out, never by how fast: a busy machine must not fail them."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
