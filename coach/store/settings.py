"""What the coach keeps of a painter's room, whichever plan is open: whether it sounds, and which keys a pedal sends.

The file lies in the settings folder of the system and may be edited by hand:
`{"sound": true, "pedal": {"f13": "go on"}}`.
"""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Final

from coach.errors import CoachError
from coach.store.safe_files import read_ordinary, replace
from coach.text import sanitized

PEDAL_MEANINGS: Final[Mapping[str, str]] = {"go on": "pagedown", "take back": "pageup", "pause": "full_stop"}
"""What a learned key can mean, and the key of the coach that means it."""

_MOST_BYTES: Final = 1 << 16
_MOST_LEARNED: Final = 40


class SettingsError(CoachError):
    """The settings cannot be kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """What is kept.

    Attributes:
        sound: Whether the coach sounds.
        pedal: What a learned key means, one of `PEDAL_MEANINGS`, by its name in the framework.
    """

    sound: bool = False
    pedal: Mapping[str, str] = field(default_factory=dict)


def settings_path() -> Path:
    """Return where the settings lie."""
    from platformdirs import user_config_path  # noqa: PLC0415  the first screen does not wait for it

    return user_config_path("portrait-coach") / "settings.json"


def load_settings(path: Path) -> tuple[Settings, str]:
    """Return the settings, and in a sentence what is wrong with their file; an empty one where nothing is.

    What is wrong is passed over; the rest holds.
    """
    where = sanitized(str(path))
    try:
        held = json.loads(read_ordinary(path, _MOST_BYTES))
    except FileNotFoundError:
        return Settings(), ""
    except OSError as error:
        return Settings(), f"Your settings in {where} cannot be read: {error.strerror or error}."
    except (ValueError, RecursionError):
        return Settings(), f"Your settings in {where} are damaged; the coach goes on without them."
    if not isinstance(held, dict):
        return Settings(), f"Your settings in {where} are damaged; the coach goes on without them."
    sound, pedal = held.get("sound", False), held.get("pedal", {})
    wrong = [] if isinstance(sound, bool) else ["sound must be true or false"]
    learned: dict[str, str] = {}
    for key, meaning in pedal.items() if isinstance(pedal, dict) else ():
        if isinstance(meaning, str) and meaning in PEDAL_MEANINGS and len(learned) < _MOST_LEARNED:
            learned[key] = meaning
        else:
            wrong.append(f"pedal: a key means {', '.join(PEDAL_MEANINGS)}")
    if not isinstance(pedal, dict):
        wrong.append('pedal must be written like {"f13": "go on"}')
    fault = f"Your settings in {where}: {wrong[0]}." if wrong else ""
    return Settings(sound=sound is True, pedal=learned), fault


def save_settings(path: Path, settings: Settings) -> None:
    """Keep the settings.

    Raises:
        SettingsError: They cannot be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        replace(path, json.dumps(asdict(settings), indent=1).encode(), is_synced=False)
    except OSError as error:
        raise SettingsError(
            f"your settings cannot be kept: {error.strerror or error}", where=sanitized(str(path))
        ) from error
