"""`tinsheet back-up` and `tinsheet restore`: the whole library as one file, and back."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from app.command_line.commands import MISUSED
from app.command_line.libraries import opened
from store.library import Library


def run(arguments: argparse.Namespace) -> int:
    if arguments.command == "back-up":
        with opened(arguments, read_only=True) as library:
            library.back_up(arguments.file)
        print(f"Backed up to {arguments.file}.")
        return 0
    folder: Path = arguments.folder
    if folder.exists() and any(folder.iterdir()):
        print(f"{folder} is not empty. Name a folder that does not exist yet.", file=sys.stderr)
        return MISUSED
    Library.restore(arguments.file, folder)
    print(f"Restored into {folder}, and checked.")
    return 0
