"""`fitter` on the command line."""

import os
import signal
import sys


def main() -> None:
    """Run the command line and leave with its exit status."""
    # Pydantic would look through every installed package for plugins of its own.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "1")
    from fitter.cli import run
    from fitter.errors import INTERRUPTED

    for told in (signal.SIGTERM, signal.SIGHUP):
        if signal.getsignal(told) == signal.SIG_DFL:  # else whoever started us wants it ignored
            signal.signal(told, signal.default_int_handler)
    status = run(sys.argv[1:])
    if status == INTERRUPTED:
        # Python ends itself by the signal if that once came while a dataclass was being made.
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(status)
    sys.exit(status)


if __name__ == "__main__":
    main()
