"""`coach prepare`: paint, tubes, piles and cautions before the first stroke."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

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

    assert once["piles"] == [
        {
            "before": "ground",
            "mixture": "dark",
            "cm2": 4129.0,
            "ml": 41.3,
            "needed_ml": 41.3,
            "estimate": False,
            "paints_ml": {"umber": 30.97, "warm red": 10.32},
            "also_for": [],
        }
    ]
    assert found["mixtures"][0]["ml"] == 154.8
    # Three quarters of it are umber, one quarter is red; in tubes of 37 ml that is four and two.
    no_price = {"estimate": False, "used_cost": None, "tubes_cost": None}
    assert found["paints"] == [
        {"paint": "umber", "ml": 116.1, "tubes": 4} | no_price,
        {"paint": "warm red", "ml": 38.7, "tubes": 2} | no_price,
    ]
    assert (found["film_um"], found["layers"], found["waste_percent"], found["tube_ml"]) == (100, 3, 25, 37)


def test_the_cost_is_told_where_prices_are_given(plan: Path, capsys: Said) -> None:
    """trade.md D11: 116.13 mL of 37 at 7.50 are 23.54, four tubes 30.00; the red has no price. Parts in decimals."""
    plan.write_text(
        GROUND.replace("pigment: PBr7", "price: 7.50").replace("umber: 3, warm red: 1", "umber: 1.5, warm red: 0.5")
    )
    found = answer(capsys, str(plan), "--layers", "3")

    assert found["paints"][0] == {
        "paint": "umber",
        "ml": 116.1,
        "tubes": 4,
        "estimate": False,
        "used_cost": 23.54,
        "tubes_cost": 30.0,
    }
    assert (found["used_cost"], found["tubes_cost"]) == (23.54, 30.0)
    assert main(["prepare", str(plan), "--layers", "3"]) == 0
    out = capsys.readouterr().out
    assert "Cost: 23.54 as used, 30.00 in whole tubes." in out
    assert "Without a price: warm red" in out


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
    usual = answer(capsys, str(plan))["piles"][0]
    assert (usual["cm2"], usual["needed_ml"], usual["ml"], usual["estimate"]) == (40, 0.5, 1, True)
    assert main(["prepare", str(plan), "--head-area", "0 cm2"]) == 2
    assert '--head-area is an area such as "190 cm2"' in capsys.readouterr().err


def test_the_heads_of_the_plan_are_measured_in_its_photo(tmp_path: Path, capsys: Said) -> None:
    """trade-checks.md 57 and 59: 700 x 900 px on 16 x 20 in are 65.03 cm2; a nose is a tenth of it, on two canvases."""
    plan = tmp_path / "plan.yaml"
    plan.write_text(
        "canvases: [{name: Hall, size: 16 x 20 in}, {name: School, size: 16 x 20 in}]\nphoto: sitter.png\n"
        "heads: [{name: Anna, box: [1500, 1200, 2200, 2100]}]\npasses: [{name: nose, passages: [all of it]}]\n"
    )
    unread = answer(capsys, str(plan))
    Image.new("1", (4000, 6000)).save(tmp_path / "sitter.png")
    found = answer(capsys, str(plan))

    assert found["piles"][0]["cm2"] == 13.0
    assert not found["remarks"]
    assert unread["piles"][0]["cm2"] == pytest.approx(0.1 * 0.1 * 2 * 2064.51, abs=0.05)
    assert "the heads of the plan are not measured" in unread["remarks"][0]
    assert "there is no such file" in unread["remarks"][0]
    assert answer(capsys, str(plan), "--head-area", "190 cm2")["piles"][0]["cm2"] == 38


def test_what_is_painted_from_another_pile_is_said(tmp_path: Path, capsys: Said) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(
        "canvases: [Hall]\npalette: [white, umber]\n"
        "mixtures: [{name: mid, parts: {white: 2, umber: 1}}, {name: dark, parts: {umber: 1, white: 1}}]\n"
        "passes: [{name: nose, passages: [{name: a, value: 4, area: 4 cm2, mixture: dark},"
        " {name: b, value: 5, area: 200 cm2, mixture: mid}]}]\n"
    )
    (pile,) = answer(capsys, str(plan))["piles"]

    assert (pile["mixture"], pile["also_for"]) == ("mid", ["dark"])
    assert main(["prepare", str(plan)]) == 0
    assert "nose: too little to mix: dark from mid, made darker" in capsys.readouterr().out


def test_mixtures_piles_tubes_and_cautions_are_printed_in_this_order(plan: Path, capsys: Said) -> None:
    assert main(["prepare", str(plan)]) == 0
    out = " ".join(capsys.readouterr().out.split())
    order = ["umber 38.7, warm red 12.9", "before", "tubes", "Reckoned with 1 layer of 100 µm", "cadmium: warm red"]
    places = [out.index(words) for words in order]

    assert places == sorted(places)
    assert "(Source: art-school safety pages; OSHA 29 CFR 1910.1027.)" in out
    assert out.endswith(STANDING)


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
