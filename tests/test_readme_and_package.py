"""What a stranger meets first: the README's commands work, and an installation needs no checkout."""

import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest
import yaml

from coach.cli import COMMANDS, main

ROOT: Final = Path(__file__).parents[1]
README: Final = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", README, flags=re.DOTALL)


def test_the_gates_run_the_command_that_the_readme_gives_for_the_tests() -> None:
    _, for_work = blocks("sh")
    gates = (ROOT / ".ci" / "run").read_text(encoding="utf-8").replace("--clear", "").replace("  ", " ")
    steps = for_work.strip().split(" && ")
    assert [step for step in steps if step.replace(" -n auto", "") not in gates] == []


def test_the_readme_names_commands_that_there_are() -> None:
    named = set(re.findall(r"`coach ([a-z]+)", README))
    assert {"new", "check"} <= named <= set(COMMANDS)


def test_the_plan_of_the_readme_is_sound_and_every_printing_command_takes_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (text,) = blocks("yaml")
    plan = tmp_path / "orchard.yaml"
    plan.write_text(text, encoding="utf-8")
    assert len(yaml.safe_load(text)["passes"]) == 1
    assert [main([name, str(plan)]) for name in ("check", "order", "forecast", "prepare")] == [0, 0, 0, 0]
    assert "eyes" in capsys.readouterr().out


def test_an_installation_without_a_checkout_has_plans_schema_and_stylesheets(tmp_path: Path) -> None:
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
    (wheel,) = tmp_path.glob("*.whl")
    subprocess.run([sys.executable, "-m", "zipfile", "-e", str(wheel), "site"], cwd=tmp_path, check=True)
    sheets = {path.name for path in (ROOT / "coach").rglob("*.tcss")}
    assert sheets == {path.name for path in (tmp_path / "site").rglob("*.tcss")}
    code = "import sys, coach; from pathlib import Path; from coach.store.demo import *; from coach.cli import main; "
    code += "print(coach.__file__); sys.exit(main(['check', str(put_demo_here(Path()))]))"
    environment = os.environ | {"PYTHONPATH": str(tmp_path / "site")}
    ran = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, env=environment, capture_output=True, text=True, check=True
    )
    assert str(tmp_path / "site") in ran.stdout
    assert "orchard-keeper.yaml is sound" in ran.stdout
