"""`fitter` on the command line."""

import contextlib
import gc
import io
import os
import signal
import sys


def main() -> None:
    """Run the command line and leave with its exit status."""
    gc.set_threshold(200_000)  # loading modules makes 80,000 objects that stay, and no garbage
    # Pydantic would look through every installed package for plugins of its own.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "1")
    for told in (signal.SIGTERM, signal.SIGHUP):
        if signal.getsignal(told) == signal.SIG_DFL:  # else whoever started us wants it ignored
            signal.signal(told, signal.default_int_handler)
    _have_streams()
    try:
        from fitter.cli import run

        status = run(sys.argv[1:])
    except KeyboardInterrupt:  # while modules were loaded
        print("fitter: interrupted. Your files are as they were.", file=sys.stderr)
        status = 130
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(OSError, ValueError):
            stream.flush()
    # Python would take every module apart again, which takes as long as reading a PDF. It would
    # also end itself by a signal that once came while a dataclass was being made.
    os._exit(status)


def _have_streams() -> None:
    """Where nobody listens all is said to nobody; what a terminal cannot show is spelt out."""
    sys.stdout = sys.stdout or io.StringIO()
    sys.stderr = sys.stderr or io.StringIO()
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


if __name__ == "__main__":
    main()
