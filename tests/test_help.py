"""Every command shows two examples that it would really take, and shells complete its words."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from fitter import cli
from fitter.help import Command, Group

ROOT = Path(__file__).parent.parent


def commands(group: Group = cli.fitter, way: str = "fitter") -> Iterator[tuple[str, Command]]:
    yield way, group
    for name, command in group.commands.items():
        if isinstance(command, Group):
            yield from commands(command, f"{way} {name}")
        else:
            assert isinstance(command, Command)
            yield f"{way} {name}", command


@pytest.mark.parametrize(("way", "command"), [*commands()], ids=str)
def test_help_has_two_examples_that_the_command_takes(way: str, command: Command) -> None:
    help_ = command.get_help(click.Context(command, info_name=way))
    shown = help_.split("Examples:\n")[1].splitlines()
    calls = [call for line in shown for call in calls_of(line)]
    of_this = [call for call in calls if " ".join(call).startswith(way)]
    assert len(of_this) >= 2
    for call in calls:
        take(call[1:])


def calls_of(line: str) -> Iterator[list[str]]:
    """Every `fitter ...` in a line of shell, as words."""
    for part in re.findall(r"fitter(?: [^;&|()>]*)?(?=$|[;&|()>])", line):
        yield shlex.split(part)


def take(words: list[str]) -> None:
    """Parse the words as the command line would, down to the last command."""
    group: click.Command = cli.fitter
    while isinstance(group, click.Group) and words and not words[0].startswith("-"):
        group, words = group.commands[words[0]], words[1:]
    try:
        group.make_context("fitter", list(words))
    except click.exceptions.Exit as left:
        assert left.exit_code == 0


@pytest.mark.parametrize(("way", "command"), [*commands()], ids=str)
def test_help_fits_80_columns(way: str, command: Command) -> None:
    context = click.Context(command, info_name=way, max_content_width=80)
    assert max(map(len, command.get_help(context).splitlines())) <= 80


@pytest.fixture
def shell_path(tmp_path: Path) -> str:
    """A PATH on which `fitter` is this checkout's."""
    program = tmp_path / "fitter"
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m fitter "$@"\n')
    program.chmod(0o755)
    return f"{tmp_path}{os.pathsep}{os.environ['PATH']}"


def in_shell(shell: str, script: str, path: str) -> str:
    done = subprocess.run(
        [shell, "-c", script],
        env={**os.environ, "PATH": path, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    assert done.stderr == ""
    return done.stdout


def test_bash_completes_commands_options_and_values(shell_path: str) -> None:
    script = """
        eval "$(fitter --completion bash)"
        try() { COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMPREPLY=()
                $(complete -p fitter | grep -o '_[a-z_]*') fitter; echo "${COMPREPLY[@]}"; }
        try fitter b
        try fitter plan --gath
        try fitter check --format js
    """
    assert in_shell("bash", script, shell_path).splitlines() == [
        "build",
        "--gathering",
        "json jsonl",
    ]


def test_fish_completes_commands_and_options(shell_path: str) -> None:
    script = """
        fitter --completion fish | source
        complete --do-complete 'fitter b'
        complete --do-complete 'fitter plan --gath'
    """
    told = [line.split("\t")[0] for line in in_shell("fish", script, shell_path).splitlines()]
    assert told == ["build", "--gathering"]


def test_zsh_takes_the_completion_and_knows_the_command(shell_path: str) -> None:
    script = """
        autoload -U compinit && compinit -D -u
        eval "$(fitter --completion zsh)"
        print ${_comps[fitter]} ${+functions[_fitter_completion]}
        COMP_WORDS="fitter b" COMP_CWORD=1 _FITTER_COMPLETE=zsh_complete fitter
    """
    told = in_shell("zsh", script, shell_path).splitlines()
    assert told[:3] == ["_fitter_completion 1", "plain", "build"]


def test_an_unknown_shell_is_told_in_a_sentence() -> None:
    assert cli.run(["--completion", "csh"]) == 2
