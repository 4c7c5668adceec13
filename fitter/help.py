"""How a command explains itself: what it does, its options, and examples to copy."""

from __future__ import annotations

from inspect import cleandoc
from typing import Any

import click

_EXAMPLES_BEGIN = "\b"


class Command(click.Command):
    """A command whose docstring ends in examples, one a line below a line with `\\b`."""

    @property
    def examples(self) -> list[str]:
        """The lines a reader may copy."""
        return [line.strip() for line in self._parts[1].splitlines() if line.strip()]

    def format_help_text(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write what the command does, without the examples."""
        formatter.write_paragraph()
        with formatter.indentation():
            formatter.write_text(self._parts[0])

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the examples below the options, as they stand."""
        if self.examples:
            with formatter.section("Examples"):
                for line in self.examples:
                    formatter.write(f"{'':>{formatter.current_indent}}{line}\n")
        super().format_epilog(ctx, formatter)

    @property
    def _parts(self) -> tuple[str, str]:
        does, _, examples = cleandoc(self.help or "").partition(_EXAMPLES_BEGIN)
        return does.strip(), examples


class Group(Command, click.Group):
    """A group whose commands explain themselves the same way."""

    command_class = Command
    group_class = type


def completion(context: click.Context, _option: click.Parameter, shell: str | None) -> Any:
    """Print what a shell has to read to complete commands and options, and leave."""
    from click.shell_completion import get_completion_class

    if shell and not context.resilient_parsing:
        made = get_completion_class(shell)
        if made is None:
            raise click.BadParameter(f"there is no completion for {shell}")
        click.echo(made(context.command, {}, "fitter", "_FITTER_COMPLETE").source())
        context.exit()
