"""Cautions at set-up, from what the plan names: information with its source, not advice."""

from dataclasses import dataclass, replace
from typing import Final

from coach.composition.solvent_air import WHITE_SPIRIT_G_ML, WHITE_SPIRIT_LIMIT_MG_M3, volume_to_ml
from coach.composition.toxic_pigment_table import METAL_PIGMENTS, METAL_WORDS, NO_METAL_WORD
from coach.plan.commission import Paint, Plan

STANDING: Final = (
    "General information, not advice for your room or your health. Follow the label and safety sheet of each material. "
    "Local fire, building, waste and work rules come first; for ventilation, wiring, storage of solvents, or symptoms, "
    "ask a licensed or qualified person."
)
"""What stands under every list of cautions."""

_ROOM_M3: Final = 30.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution.

    Attributes:
        about: What it is about, in a word or two.
        says: What to do or know, in a sentence or two.
        source: Where that was read.
    """

    about: str
    says: str
    source: str


_FOR_ALL: Final = (
    Caution(
        about="oily rags",
        says="Oily rags can heat by themselves and burn within hours. Never leave them in a pile: spread them apart "
        "outdoors to dry, away from buildings, then keep them in a metal tin with a tight lid, filled with water and "
        "detergent.",
        source="NFPA tip sheet on oily rags; Harvard GSD workshop page",
    ),
    Caution(
        about="solvent",
        says="Keep lids on, use the smallest open jar, keep it from flames and sparks (turpentine flashes at 35 °C, "
        "white spirit from 38 °C), and clean with oil, soap and water where that serves.",
        source="university art-safety page; two art-school safety pages",
    ),
    Caution(
        about="ventilation",
        says="Let fresh air in, and let a fan draw air away from the face: "
        f"{volume_to_ml(WHITE_SPIRIT_LIMIT_MG_M3, WHITE_SPIRIT_G_ML, _ROOM_M3):.1f} ml of white spirit evaporated in "
        f"a closed room of {_ROOM_M3:.0f} m³ make {WHITE_SPIRIT_LIMIT_MG_M3:.0f} mg/m³, the mean recommended as the "
        "most for a working day.",
        source="NIOSH recommended limit, OSHA page on Stoddard solvent; volume computed (density from memory)",
    ),
    Caution(
        about="gloves and hands",
        says="Thin gloves only shield from splashes: nitrile gloves of one thickness held the same chemical from 30 to "
        "300 minutes, so change them when they are wet with solvent. No food or drink at the easel; wash before meals.",
        source="Mickelsen & Hall 1987 (NIOSH abstract); two art-school safety pages",
    ),
    Caution(
        about="labels",
        says="A label to ASTM D4236 names chronic hazards and safe handling; it cannot make use wholly safe.",
        source="ASTM D4236-94(2021), abstract",
    ),
)

_BY_METAL: Final = (
    Caution(
        about="cadmium",
        says="Paste is mostly a danger from hand to mouth and as dust or mist: never dry-sand, spray or heat it. At "
        "work, air may hold 5 µg/m³ of cadmium at most.",
        source="art-school safety pages; OSHA 29 CFR 1910.1027",
    ),
    Caution(
        about="lead",
        says="Check local law before using it: the EU bars lead carbonates and sulphates in paint, the UK keeps leaded "
        "paint for restoring and asks for a declaration. Never dry-sand, spray or heat it. At work, air may hold "
        "50 µg/m³ of lead at most.",
        source="REACH Annex XVII entries 16-17; SI 2008/2852 Sch. 5; OSHA 29 CFR 1910.1025",
    ),
    Caution(
        about="cobalt",
        says="Keep it off the skin and never sand or spray it dry: cobalt dust can sensitise skin and lungs. At work, "
        "air may hold 0.1 mg/m³ of cobalt dust at most.",
        source="OSHA chemical page 229100 (cobalt metal dust; read)",
    ),
)


def cautions_of(plan: Plan) -> tuple[Caution, ...]:
    """Return the cautions for a plan: those about the metals its palette holds first, then those for every commission.

    `STANDING` belongs under them. Nothing here proposes a paint.
    """
    metals = ((caution, _paints_with(caution.about, plan.palette)) for caution in _BY_METAL)
    named = (replace(one, about=f"{one.about}: {', '.join(paints)}") for one, paints in metals if paints)
    return (*named, *_FOR_ALL)


def cautions_plain(plan: Plan) -> dict[str, object]:
    """Return the cautions and the standing sentence as plain values, ready for JSON."""
    found = [{"about": one.about, "says": one.says, "source": one.source} for one in cautions_of(plan)]
    return {"cautions": found, "standing": STANDING}


def _paints_with(metal: str, palette: tuple[Paint, ...]) -> list[str]:
    return [paint.name for paint in palette if _holds(metal, paint)]


def _holds(metal: str, paint: Paint) -> bool:
    if paint.pigment is not None:
        names = {name.partition(":")[0].upper() for name in paint.pigment.replace("+", " ").replace(",", " ").split()}
        return not names.isdisjoint(name.upper() for name in METAL_PIGMENTS[metal])
    words = set(paint.name.lower().replace("-", " ").split())
    return NO_METAL_WORD not in words and not words.isdisjoint(METAL_WORDS[metal])
