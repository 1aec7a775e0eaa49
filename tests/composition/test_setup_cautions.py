"""Cautions at set-up."""

import pytest

from coach.composition.setup_cautions import (
    STANDING,
    WHITE_SPIRIT_G_ML,
    WHITE_SPIRIT_LIMIT_MG_M3,
    cautions_of,
    volume_to_ml,
)
from coach.plan.commission import Canvas, Paint, Pass, Passage, Plan, runs_of
from coach.plan.delivery import Forecast

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


@pytest.mark.parametrize(
    ("paint", "found"),
    [
        (Paint(name="warm red", pigment="PR106"), ["mercury"]),
        (Paint(name="vermilion"), ["mercury"]),
        (Paint(name="vermilion hue"), []),
        (Paint(name="yellow", pigment="PY36"), ["chromate"]),
        (Paint(name="yellow", pigment="PY34"), ["lead", "chromate"]),
        (Paint(name="chrome yellow"), ["lead", "chromate"]),
        (Paint(name="oxide of chromium", pigment="PG17"), []),
        (Paint(name="chrome oxide green"), []),
        (Paint(name="green", pigment="PG21"), ["arsenic"]),
        (Paint(name="Cremnitz white"), ["lead"]),
        (Paint(name="flake white"), ["lead"]),
        (Paint(name="flake white hue"), []),
        (Paint(name="flake white", pigment="PW6"), []),
        (Paint(name="Naples yellow genuine"), ["lead"]),
        (Paint(name="Naples yellow"), []),
        (Paint(name="Naples yellow genuine", pigment="PBr24"), []),
        (Paint(name="cadmium-free red"), []),
        (Paint(name="cadmium free red"), []),
    ],
)
def test_a_name_is_believed_until_an_index_says_otherwise(paint: Paint, found: list[str]) -> None:
    """Colour Index generic names, from memory; names of the trade: common practice, no source."""
    assert [one.partition(":")[0] for one in about(paint)[:-5]] == found


def test_of_two_paints_of_which_one_holds_a_metal_only_that_one_is_named() -> None:
    """Also where both share an index name's beginning, or one paint holds two pigments."""
    assert about(Paint(name="white", pigment="PW1"), Paint(name="zinc", pigment="PW4"))[:2] == [
        "lead: white",
        "oily rags",
    ]
    assert about(Paint(name="mixed", pigment="PBk9 + PR108"), Paint(name="near", pigment="PR10"))[0] == "cadmium: mixed"
    assert about(Paint(name="half known", pigment="PBk9, PB28"), Paint(name="cobalt hue"))[0] == "cobalt: half known"


def test_alkyd_and_driers_have_their_own_caution() -> None:
    whole = plan(Paint(name="white", pigment="PW6"))
    alkyd = cautions_of(whole._replace(forecast=Forecast(medium="alkyd")))

    assert [one for one in alkyd if one not in cautions_of(whole)] == [alkyd[0]]
    assert alkyd[0].says.startswith("Driers are metal salts")
    assert about(Paint(name="alkyd white", pigment="PW6"))[0] == about(Paint(name="cobalt-free drier"))[0]
    assert about(Paint(name="cobalt drier"))[:2] == ["cobalt: cobalt drier", "alkyd and driers"]


def test_paints_of_one_metal_share_one_caution() -> None:
    found = about(Paint(name="red", pigment="PR108"), Paint(name="yellow", pigment="PY35"))

    assert found[0] == "cadmium: red, yellow"


def test_lead_is_never_proposed_only_sent_to_local_law() -> None:
    """trade.md E19 to E21."""
    unnamed = " ".join(caution.says for caution in cautions_of(plan(Paint(name="white", pigment="PW6"))))
    named = cautions_of(plan(Paint(name="white", pigment="PW1")))[0]

    assert "lead" not in unnamed
    assert named.says.startswith("Check local law before using it")


def test_every_caution_has_its_source_or_is_marked() -> None:
    """What no row of trade.md E or other page was read for is marked."""
    every = "PR108 PW1 PR106 PY36 PG21 PB28"
    found = cautions_of(plan(Paint(name="all", pigment=every))._replace(forecast=Forecast(medium="alkyd")))

    assert len(found) == 6 + 1 + 5
    assert all(one.source for one in found)
    assert {one.about for one in found if one.source == "common practice, no source"} == {
        "mercury: all",
        "arsenic: all",
        "alkyd and driers",
    }
    assert STANDING.startswith("General information, not advice")


def test_the_volume_that_fills_a_closed_room_to_the_limit() -> None:
    """trade-checks.md 83: 13.5 mL in 30 m3; check 82 the other way: 10 mL make 260 mg/m3."""
    assert volume_to_ml(WHITE_SPIRIT_LIMIT_MG_M3, WHITE_SPIRIT_G_ML, 30) == pytest.approx(13.5, abs=0.05)
    assert volume_to_ml(260, WHITE_SPIRIT_G_ML, 30) == pytest.approx(10)
    assert any("13.5 ml of white spirit" in caution.says for caution in cautions_of(plan()))
