"""Cautions at set-up."""

import pytest

from coach.composition.setup_cautions import STANDING, cautions_of, cautions_plain
from coach.composition.solvent_air import WHITE_SPIRIT_G_ML, WHITE_SPIRIT_LIMIT_MG_M3, volume_to_ml
from coach.plan.commission import Canvas, Paint, Pass, Passage, Plan, runs_of

PASSAGES = (Passage(name="iris"),)


def plan(*palette: Paint) -> Plan:
    eyes = Pass(name="eyes", passages=PASSAGES, runs=runs_of("eyes", PASSAGES))
    return Plan(canvases=(Canvas(name="Hall"),), passes=(eyes,), palette=palette)


def about(*palette: Paint) -> list[str]:
    return [caution.about for caution in cautions_of(plan(*palette))]


def test_rags_solvent_air_and_gloves_concern_every_commission() -> None:
    assert about() == ["oily rags", "solvent", "ventilation", "gloves and hands", "labels"]


@pytest.mark.parametrize(
    ("paint", "first"),
    [
        (Paint(name="cadmium red", pigment="PR108"), "cadmium: cadmium red"),
        (Paint(name="warm red", pigment="PR108:1"), "cadmium: warm red"),
        (Paint(name="warm red", pigment="pw6 + pr108"), "cadmium: warm red"),
        (Paint(name="cadmium yellow"), "cadmium: cadmium yellow"),
        (Paint(name="old white", pigment="PW1"), "lead: old white"),
        (Paint(name="lead-tin yellow"), "lead: lead-tin yellow"),
        (Paint(name="cobalt blue", pigment="PB28"), "cobalt: cobalt blue"),
        (Paint(name="cerulean", pigment="PB35"), "cobalt: cerulean"),
        (Paint(name="cadmium red hue"), "oily rags"),
        (Paint(name="cadmium red", pigment="PR112"), "oily rags"),
        (Paint(name="leaden grey", pigment="PBk9"), "oily rags"),
    ],
)
def test_a_metal_is_known_by_the_pigment_and_else_by_the_name(paint: Paint, first: str) -> None:
    assert about(paint)[0] == first


def test_paints_of_one_metal_share_one_caution() -> None:
    found = about(Paint(name="red", pigment="PR108"), Paint(name="yellow", pigment="PY35"))

    assert found[0] == "cadmium: red, yellow"


def test_lead_is_never_proposed_only_sent_to_local_law() -> None:
    """trade.md E19 to E21."""
    unnamed = " ".join(caution.says for caution in cautions_of(plan(Paint(name="white", pigment="PW6"))))
    named = cautions_of(plan(Paint(name="white", pigment="PW1")))[0]

    assert "lead" not in unnamed
    assert named.says.startswith("Check local law before using it")


def test_every_caution_has_its_source_and_the_standing_sentence_follows() -> None:
    found = cautions_plain(plan(Paint(name="cobalt blue", pigment="PB28")))

    assert found["standing"] == STANDING
    assert STANDING.startswith("General information, not advice")
    assert isinstance(found["cautions"], list)
    assert all(one["source"] for one in found["cautions"])


def test_the_volume_that_fills_a_closed_room_to_the_limit() -> None:
    """trade-checks.md 83: 13.5 mL in 30 m3; check 82 the other way: 10 mL make 260 mg/m3."""
    assert volume_to_ml(WHITE_SPIRIT_LIMIT_MG_M3, WHITE_SPIRIT_G_ML, 30) == pytest.approx(13.5, abs=0.05)
    assert volume_to_ml(260, WHITE_SPIRIT_G_ML, 30) == pytest.approx(10)
    assert any("13.5 ml of white spirit" in caution.says for caution in cautions_of(plan()))
