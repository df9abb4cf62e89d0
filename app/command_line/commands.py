"""From a parsed command to the module that does it; faults become one plain sentence and a status."""

from __future__ import annotations

import argparse
import importlib
import sys
from collections.abc import Callable, Mapping

FAULT = 1
MISUSED = 2

_MODULES: Mapping[str, str] = {
    "extract": "app.command_line.extracting",
    "import": "app.command_line.importing",
    "ask": "app.command_line.asking",
    "compare": "app.command_line.comparing",
    "find": "app.command_line.finding",
    "build-up": "app.command_line.building_up",
    "find-build-up": "app.command_line.building_up",
    "panels": "app.command_line.job",
    "due": "app.command_line.job",
    "shelf": "app.command_line.shelf",
    "read-again": "app.command_line.rereading",
    "remove-sheet": "app.command_line.removing",
    "restore-sheet": "app.command_line.removing",
    "sum": "app.command_line.summing",
    "mix": "app.command_line.mixing",
    "back-up": "app.command_line.keeping",
    "restore": "app.command_line.keeping",
}


def run_command(arguments: argparse.Namespace) -> int:
    """Run one command and return its exit status; only that command's module is imported."""
    _print_any_letter()
    run: Callable[[argparse.Namespace], int] = importlib.import_module(_MODULES[arguments.command]).run
    try:
        return run(arguments)
    except BrokenPipeError:
        # The reader of our output (head, less) has gone: nothing is left to say.
        sys.stderr.close()
        return FAULT
    except KeyboardInterrupt:
        print("Stopped. What was filed before stays filed.", file=sys.stderr)
        return FAULT
    except Exception as fault:
        from app.messages import message_for  # noqa: PLC0415 - only a fault needs it

        message = message_for(fault)
        print(message.sentence, file=sys.stderr)
        if message.detail:
            print(f"({message.detail})", file=sys.stderr)
        return FAULT


def _print_any_letter() -> None:
    """Names and sentences of sheets hold letters that some consoles cannot show: show a stand-in, don't fall over."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
