"""Where the command line begins: from here on an interruption ends it without a word."""

import os

INTERRUPTED = 130  # what a shell gives for a program ended by Ctrl-C
_SHOW_THE_CURSOR = b"\x1b[?25h"


def end_at_once(*_: object) -> None:
    """End this process, wherever it is; all that is kept is on disk already."""
    if os.isatty(2):
        os.write(2, _SHOW_THE_CURSOR)
    os._exit(INTERRUPTED)


# What imports, plans and prints leaves nothing undone when it stops; the app and the server take
# the signal over while they run.
try:
    import signal

    signal.signal(signal.SIGINT, end_at_once)
except KeyboardInterrupt:
    end_at_once()


def main() -> int:
    """Do what the command line asks; returns the exit code."""
    from workbench.cli import main as obey

    code = obey()
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Python would give it back while it shuts down
    return code


if __name__ == "__main__":
    raise SystemExit(main())
