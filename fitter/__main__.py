"""`fitter` on the command line."""

import signal
import sys


def main() -> None:
    """Run the command line and leave with its exit status."""
    from fitter.cli import run

    for told in (signal.SIGTERM, signal.SIGHUP):
        if signal.getsignal(told) == signal.SIG_DFL:  # else whoever started us wants it ignored
            signal.signal(told, signal.default_int_handler)
    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
