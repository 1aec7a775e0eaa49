"""`coach prepare`: paint, tubes, piles and cautions before the first stroke."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from coach.cli import main
from coach.composition.setup_cautions import STANDING

Said = pytest.CaptureFixture[str]

GROUND = """
canvases: [{name: Hall, size: 16 x 20 in}, {name: School, size: 16 x 20 in}]
palette: [{name: umber, pigment: PBr7}, {name: warm red, pigment: PR108}]
mixtures: [{name: dark, parts: {umber: 3, warm red: 1}}]
passes:
  - name: ground
    passages: [{name: all, area: 320 in2, mixture: dark}]
"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Two canvases of 16 x 20 in, covered with one mixture."""
    path = tmp_path / "plan.yaml"
    path.write_text(GROUND)
    return path


def answer(said: Said, *words: str) -> dict[str, Any]:
    assert main(["prepare", *words, "--json"]) == 0
    found: dict[str, Any] = json.loads(said.readouterr().out)
    return found


def test_three_layers_on_two_canvases_with_waste(plan: Path, capsys: Said) -> None:
    """trade-checks.md 72 and 73: 20.65 mL a layer and canvas, 154.8 mL in all with 25 % waste."""
    once = answer(capsys, str(plan), "--waste", "0")
    found = answer(capsys, str(plan), "--layers", "3")

    assert once["piles"] == [{"before": "ground", "mixture": "dark", "cm2": 4129.0, "ml": 41.3, "estimate": False}]
    assert found["mixtures"][0]["ml"] == 154.8
    # Three quarters of it are umber, one quarter is red; in tubes of 37 ml that is four and two.
    assert found["paints"] == [
        {"paint": "umber", "ml": 116.1, "tubes": 4, "estimate": False},
        {"paint": "warm red", "ml": 38.7, "tubes": 2, "estimate": False},
    ]
    assert (found["film_um"], found["layers"], found["waste_percent"], found["tube_ml"]) == (100, 3, 25, 37)


def test_larger_tubes_are_fewer(plan: Path, capsys: Said) -> None:
    found = answer(capsys, str(plan), "--layers", "3", "--tube", "150")

    assert [paint["tubes"] for paint in found["paints"]] == [1, 1]


def test_the_area_of_the_heads_settles_what_the_plan_leaves_out(tmp_path: Path, capsys: Said) -> None:
    """A nose is a tenth of a head's box: 19 cm2 of 190 on each of two canvases, and 20 of a tenth of the canvas."""
    plan = tmp_path / "plan.yaml"
    plan.write_text(
        "canvases: [{name: Hall, size: 40 x 50 cm}, {name: School, size: 40 x 50 cm}]\n"
        "passes: [{name: nose, passages: [all of it]}]\n"
    )

    assert answer(capsys, str(plan), "--head-area", "190 cm2")["piles"][0]["cm2"] == 38
    assert answer(capsys, str(plan))["piles"][0] == {
        "before": "nose",
        "mixture": None,
        "cm2": 40.0,
        "ml": 0.5,
        "estimate": True,
    }


def test_mixtures_piles_tubes_and_cautions_are_printed_in_this_order(plan: Path, capsys: Said) -> None:
    assert main(["prepare", str(plan)]) == 0
    out = capsys.readouterr().out
    order = ["umber 38.7, warm red 12.9", "before", "tubes", "reckoned with 1 layer of 100 µm", "cadmium: warm red"]
    places = [out.index(words) for words in order]

    assert places == sorted(places)
    assert "(Source: art-school safety pages; OSHA 29 CFR 1910.1027.)" in out
    assert out.endswith(f"{STANDING}\n")


def test_cautions_stand_beside_the_figures_for_machines_too(plan: Path, capsys: Said) -> None:
    found = answer(capsys, str(plan))

    assert [one["about"] for one in found["cautions"]][:2] == ["cadmium: warm red", "oily rags"]
    assert found["standing"] == STANDING


@pytest.mark.parametrize("name", ["orchard-keeper", "ferry-sisters", "evening-study"])
def test_every_plan_of_the_house_can_be_prepared(name: str, capsys: Said) -> None:
    plans = Path(__file__).parents[2] / "plans"
    found = answer(capsys, str(plans / f"{name}.yaml"))

    assert found["uncounted"] == []
    assert sum(pile["ml"] for pile in found["piles"]) == pytest.approx(
        sum(need["ml"] for need in found["mixtures"]), abs=0.05 * (len(found["piles"]) + len(found["mixtures"]))
    )


def test_the_reader_of_photos_is_loaded_by_no_command_but_compose() -> None:
    names = "cli, commands.check, commands.order, commands.log, commands.prepare, commands.easel"
    imports = "\n".join(f"import coach.{name}" for name in names.split(", "))
    command = [sys.executable, "-c", f"import sys\n{imports}\nassert 'PIL' not in sys.modules\n"]

    assert subprocess.run(command, capture_output=True, check=False, timeout=30).returncode == 0
