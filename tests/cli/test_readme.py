"""What the README shows is what happens."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import click
import pytest

from generator.cli.main import COMMANDS, main
from tests.cli.running import run
from tests.conftest import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```", README, re.S | re.M)


def test_the_first_two_shell_blocks_are_one_line_each_and_make_their_own_environment() -> None:
    demo, tests = (block.strip() for block in blocks("sh")[:2])
    for line in (demo, tests):
        assert "\n" not in line
        assert line.startswith("python3 -m venv ")
    assert demo.endswith("gauzeleaf demo")
    assert demo.split()[3] != tests.split()[3], "each makes an environment of its own"


def shown_commands() -> list[str]:
    return [
        line.split("  #")[0].strip()
        for block in blocks("text")
        for line in block.splitlines()
        if line.startswith("gauzeleaf ")
    ]


def test_commands_are_shown() -> None:
    assert len(shown_commands()) >= 5


@pytest.mark.parametrize("line", shown_commands())
def test_every_command_and_option_that_is_shown_exists(line: str) -> None:
    _, name, *rest = shlex.split(line)
    assert name in COMMANDS
    command = main.get_command(None, name)  # type: ignore[arg-type]
    if isinstance(command, click.Group):
        name, *rest = rest
        assert name in command.list_commands(click.Context(command))
        command = command.get_command(click.Context(command), name)
    assert command is not None
    known = {option for parameter in command.params for option in parameter.opts}
    assert {word for word in rest if word.startswith("--")} <= known


def test_the_message_that_is_shown_is_the_message_that_comes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    shown = next(block for block in blocks("text") if "error:" in block)
    shutil.copytree(ROOT / "protocols", tmp_path / "our-book" / "protocols")
    file = tmp_path / "our-book" / "protocols" / "padded-limb-support.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(re.sub(r"^  change_every: .*$", "  change_every: 7", text, count=1, flags=re.M), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    ran = run(["check", "our-book"], capsys)
    assert ran.status == 1
    assert [line.rstrip() for line in shown.strip().splitlines()] == [
        line.rstrip() for line in ran.err.strip().splitlines()[: len(shown.strip().splitlines())]
    ]


def test_every_picture_that_is_shown_lies_there() -> None:
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)
    assert pictures
    for picture in pictures:
        assert (ROOT / picture).is_file(), picture
