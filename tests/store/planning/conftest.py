"""The invented shelf of the tests of reasoning serves here too; made-up cases are judged by what comes out."""

from __future__ import annotations

import sys
from pathlib import Path

from hypothesis import settings

sys.path.insert(0, str(Path(__file__).parents[1] / "rules"))

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
