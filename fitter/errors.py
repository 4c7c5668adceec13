"""What goes wrong, told to a person: place, fault, remedy; each carries its exit status."""

from __future__ import annotations

DONE, NOT_PASSED, INPUT_TO_MEND, PROGRAM_FAILED, OUR_FAULT, INTERRUPTED = 0, 1, 2, 3, 4, 130


class Fault(Exception):
    """One or more sentences for a person; `status` is the exit status they lead to."""

    status = OUR_FAULT

    def __init__(self, *sentences: str) -> None:
        super().__init__("\n".join(sentences))
        self.sentences = sentences


class CannotFit(Fault):
    """The book cannot be fitted, or does not pass."""

    status = NOT_PASSED


class BadInput(Fault):
    """Input to mend: usage, YAML, an unreadable PDF, a missing file."""

    status = INPUT_TO_MEND


class ProgramFailed(Fault):
    """A build program is missing or failed; its own message is in the sentences."""

    status = PROGRAM_FAILED


class NotStarted(ProgramFailed):
    """A build program could not even be started, which is no fault of what it was to build."""
