"""The README says what is so: its commands exist, its pictures are there, its words on the command line parse."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

from app import set_up
from app.command_line.parser import parse

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_opens_with_the_job_in_one_paragraph_then_two_commands() -> None:
    parts = [part for part in README.split("\n\n") if part.strip()]
    assert parts[0] == "# Tinsheet"
    assert not parts[1].startswith(("#", "*", "|", "`"))
    assert parts[2].startswith("## Two commands")


def test_set_up_takes_the_commands_as_written() -> None:
    commands = re.findall(r"`(?:python3|py) app[/\\]set_up\.py (--\w+)`", README)
    assert sorted(commands) == ["--demo", "--demo", "--scans", "--test", "--test"]
    assert (ROOT / "app" / "set_up.py").is_file()
    assert set_up.OLDEST_PYTHON == (3, 11)
    assert "Python 3.11 or newer" in README


def test_the_gate_runs_the_command_that_the_readme_gives() -> None:
    assert "app/set_up.py --test" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_every_example_on_the_command_line_parses() -> None:
    block = README.split("## On the command line", 1)[1].split("```")[1]
    lines = [re.split(r"\s{3,}", line)[0] for line in block.strip().splitlines()]
    assert len(lines) >= 8
    for line in lines:
        words = shlex.split(line)
        assert words[0] == "tinsheet"
        assert parse(words[1:]).command == words[1]


def test_links_and_pictures_lead_somewhere() -> None:
    targets = re.findall(r"\]\(([^)#]+)\)", README)
    assert targets
    assert [target for target in targets if not target.startswith("http") and not (ROOT / target).exists()] == []


def test_every_picture_kept_is_shown() -> None:
    kept = {f"fixtures/pictures/{path.name}" for path in (ROOT / "fixtures" / "pictures").glob("*.png")}
    shown = set(re.findall(r"\((fixtures/pictures/[^)]+)\)", README))
    assert kept == shown


def test_nothing_is_left_to_be_filled_in() -> None:
    assert "<!--" not in README
    assert not re.search(r"\b(TBD|FIXME|XXX)\b", README)
