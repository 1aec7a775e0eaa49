"""Cautions at set-up, from what the plan names: information with its source, not advice."""

from dataclasses import dataclass, replace
from typing import Final

from coach.plan.commission import Paint, Plan

STANDING: Final = (
    "General information, not advice for your room or your health. Follow the label and safety sheet of each material. "
    "Local fire, building, waste and work rules come first; for ventilation, wiring, storage of solvents, or symptoms, "
    "ask a licensed or qualified person."
)
"""What stands under every list of cautions."""

WHITE_SPIRIT_LIMIT_MG_M3: Final = 350.0
"""Recommended mean over a working day. Source: NIOSH REL for Stoddard solvent, OSHA chemical page (read)."""

WHITE_SPIRIT_G_ML: Final = 0.78
"""Density of white spirit, in grams per millilitre. Source: from memory."""

_ROOM_M3: Final = 30.0


def volume_to_ml(limit_mg_m3: float, density_g_ml: float, room_m3: float) -> float:
    """Return the volume of solvent that, wholly evaporated, reaches a limit in a closed room. Source: identity."""
    return limit_mg_m3 * room_m3 / (1000 * density_g_ml)


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

_NO_SOURCE: Final = "common practice, no source"

PHOTO_CAUTION: Final = Caution(
    about="photo",
    says="A photo's darks and lights are not the sitter's: they are compressed, and as rendered. Judge them by eye.",
    source=_NO_SOURCE,
)


def photo_notes(plan: Plan) -> tuple[str, ...]:
    """Return what is to be known of a plan's photo, a sentence each: darks and lights, rights, consent."""
    return (
        PHOTO_CAUTION.says,
        f"Photo rights: {plan.rights or 'not stated'}.",
        f"Consent: {plan.consent or 'not stated'}.",
    )


_ALKYD: Final = Caution(
    about="alkyd and driers",
    says="Driers are metal salts, often of cobalt, and may sensitise the skin; alkyd is thinned with solvent, and "
    "rags with it heat like oily ones. Keep them off the skin and let fresh air in.",
    source=_NO_SOURCE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Substance:
    """What some pigments hold.

    Attributes:
        caution: What is said of it.
        pigments: Colour index names of the pigments that hold it. Source: Colour Index generic names, from memory.
        words: Words in the name of a paint whose pigment the plan does not state; of each entry all must be there.
            Source: common practice, no source.
    """

    caution: Caution
    pigments: frozenset[str]
    words: tuple[frozenset[str], ...]


def _substance(about: str, pigments: str, words: str, *, says: str, source: str) -> _Substance:
    return _Substance(
        caution=Caution(about=about, says=says, source=source),
        pigments=frozenset(pigments.upper().split()),
        words=tuple(frozenset(entry.split()) for entry in words.split(", ")),
    )


_SUBSTANCES: Final = (
    _substance(
        "cadmium",
        "PY35 PY37 PO20 PO23 PR108 PR113",
        "cadmium",
        says="Paste is mostly a danger from hand to mouth and as dust or mist: never dry-sand, spray or heat it. At "
        "work, air may hold 5 µg/m³ of cadmium at most.",
        source="art-school safety pages; OSHA 29 CFR 1910.1027",
    ),
    _substance(
        "lead",
        "PW1 PW2 PY34 PY41 PY46 PO21 PR103 PR104 PR105",
        "lead, flake, cremnitz, kremnitz, minium, massicot, naples yellow genuine, chrome yellow, chrome orange",
        says="Check local law before using it: the EU bars lead carbonates and sulphates in paint, the UK keeps leaded "
        "paint for restoring and asks for a declaration. Never dry-sand, spray or heat it. At work, air may hold "
        "50 µg/m³ of lead at most.",
        source="REACH Annex XVII entries 16-17; SI 2008/2852 Sch. 5; OSHA 29 CFR 1910.1025",
    ),
    _substance(
        "mercury",
        "PR106",
        "vermilion, vermillion, cinnabar",
        says="Paste is mostly a danger from hand to mouth: wash before meals, and never dry-sand, spray or heat it, "
        "for heat sets mercury free.",
        source=_NO_SOURCE,
    ),
    _substance(
        "chromate",
        "PY31 PY32 PY34 PY36 PO21 PR103 PR104",
        "chrome yellow, chrome orange, zinc yellow, strontium yellow, barium yellow",
        says="It can burn and sensitise the skin, and its dust is a danger to the lungs: keep it off the skin, and "
        "never dry-sand, spray or heat it. At work, air may hold 5 µg/m³ of chromium(VI) at most.",
        source="OSHA 29 CFR 1910.1026 (as quoted by two industry pages); skin and dust: common practice, no source",
    ),
    _substance(
        "arsenic",
        "PG21 PG22 PY39",
        "orpiment, realgar, schweinfurt, scheele",
        says="A strong poison from hand to mouth, and as dust: wash before meals, and never dry-sand, spray or heat "
        "it. Check local law before using it.",
        source=_NO_SOURCE,
    ),
    _substance(
        "cobalt",
        "PB28 PB35 PB36 PB72 PB74 PG14 PG19 PG26 PG50 PV14 PV47 PV48 PV49 PY40 PBk27",
        "cobalt, cerulean, aureolin, smalt",
        says="Keep it off the skin and never sand or spray it dry: cobalt dust can sensitise skin and lungs. At work, "
        "air may hold 0.1 mg/m³ of cobalt dust at most.",
        source="OSHA chemical page 229100 (cobalt metal dust; read)",
    ),
)

_DENYING_WORDS: Final = frozenset({"hue", "free", "imitation", "substitute"})
"""Words by which a paint says that it does without what it is named after. Source: common practice, no source."""


_DRIER_WORDS: Final = frozenset({"alkyd", "drier", "driers", "siccative"})
"""Words in the name of what stands on the palette that tell of driers. Source: common practice, no source."""


def cautions_of(plan: Plan) -> tuple[Caution, ...]:
    """Return the cautions for a plan: about what its palette and its medium hold, then those for every commission.

    `STANDING` belongs under them. Nothing here proposes a paint.
    """
    found = [(one, [paint.name for paint in plan.palette if _holds(one, paint)]) for one in _SUBSTANCES]
    named = [replace(one.caution, about=f"{one.caution.about}: {', '.join(paints)}") for one, paints in found if paints]
    has_driers = plan.forecast.medium == "alkyd" or any(_words(paint) & _DRIER_WORDS for paint in plan.palette)
    return (*named, *([_ALKYD] if has_driers else []), *_FOR_ALL)


def _holds(one: _Substance, paint: Paint) -> bool:
    if paint.pigment is not None:
        names = {name.partition(":")[0].upper() for name in paint.pigment.replace("+", " ").replace(",", " ").split()}
        return not names.isdisjoint(one.pigments)
    words = _words(paint)
    return words.isdisjoint(_DENYING_WORDS) and any(entry <= words for entry in one.words)


def _words(paint: Paint) -> set[str]:
    return set(paint.name.lower().replace("-", " ").split())
