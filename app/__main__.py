"""The entry point: decides between the window and the command line before anything heavy is imported."""

from __future__ import annotations

import sys
from collections.abc import Sequence


def main(argv: Sequence[str] | None = None) -> int:
    """Run the program; returns the exit status (0 done, 1 a fault, 2 bad usage or an unknown name)."""
    from app.command_line.parser import parse  # noqa: PLC0415 - the window must not wait for it in a worker

    arguments = parse(sys.argv[1:] if argv is None else list(argv))
    if arguments.command is None:
        from app.window import run  # noqa: PLC0415 - Qt only where a window opens

        return run(arguments.library, arguments.demo)
    from app.command_line.commands import run_command  # noqa: PLC0415 - nothing of it serves the window

    return run_command(arguments)


if __name__ == "__main__":
    sys.exit(main())
