"""`fitter` on the command line."""

import sys


def main() -> None:
    """Run the command line and leave with its exit status."""
    from fitter.cli import run

    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
