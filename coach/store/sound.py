"""Sounds for a painter who does not look: played by the system's player where there is one, else rung by the bell."""

import io
import math
import os
import shutil
import subprocess
import threading
import time
import zlib
from array import array
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Final

from coach.session.cues import Cue
from coach.store.safe_files import replace as write_whole
from coach.store.settings import PEDAL_MEANINGS, Settings, load_settings, save_settings, settings_path

_PLAYERS: Final = ("paplay", "pw-play", "aplay", "afplay")
_RATE_HZ: Final = 22_050
_LOUD_FRAC: Final = 0.4
_MOST_PLAYING_S: Final = 5

_TONES: Final[Mapping[Cue, tuple[tuple[float, float], ...]]] = {
    Cue.MOVE: ((1320, 0.03),),
    Cue.TURN_OVER: ((660, 0.18), (0, 0.08), (660, 0.18)),
    Cue.REST_DUE: ((880, 0.2), (0, 0.06), (660, 0.2), (0, 0.06), (440, 0.4)),
    Cue.REST_OVER: ((440, 0.2), (0, 0.06), (660, 0.2), (0, 0.06), (880, 0.4)),
}
"""Height in Hz (0 is a pause) and length in seconds of what is played: a rest falls, its end rises."""

_RINGS_S: Final[Mapping[Cue, tuple[float, ...]]] = {
    Cue.MOVE: (0.0,),
    Cue.TURN_OVER: (0.0, 0.4),
    Cue.REST_DUE: (0.0, 0.4, 0.4),
    Cue.REST_OVER: (0.0, 0.2, 0.6, 0.2),
}
"""Seconds of quiet before each ring of the bell."""


class Sound:
    """Sounds when it is on; whatever goes wrong with a sound is passed over, and no key waits for one."""

    def __init__(self, path: Path | None = None, *, is_on: bool = False) -> None:
        """Take where the settings lie, None for the system's folder; `is_on` sounds until it is switched off."""
        self._path = path
        self._settings = Settings(sound=is_on)
        self._is_asked = is_on

    def load(self) -> str:
        """Read the settings; return in a sentence what is wrong with them. May be called from a thread."""
        self._path = self._path or settings_path()
        found, fault = load_settings(self._path)
        self._settings = replace(found, sound=found.sound or self._is_asked)
        return fault

    @property
    def learned(self) -> Mapping[str, str]:
        """The key of the coach that each learned key stands for."""
        return {key: PEDAL_MEANINGS[meaning] for key, meaning in self._settings.pedal.items()}

    def switch(self) -> str:
        """Switch sound on or off, keep that, and return it in a sentence.

        Raises:
            SettingsError: It is switched, and cannot be kept.
        """
        self._settings = replace(self._settings, sound=not self._settings.sound)
        save_settings(self._path or settings_path(), self._settings)
        return "Sound is on." if self._settings.sound else "Sound is off."

    def play(self, cue: Cue, ring: Callable[[], None]) -> None:
        """Let a cue be heard where sound is on; `ring` rings the terminal's bell, and is called from a thread."""
        if self._settings.sound:
            threading.Thread(target=_sound, args=(cue, ring), daemon=True).start()


def _sound(cue: Cue, ring: Callable[[], None]) -> None:
    player = None if "SSH_CONNECTION" in os.environ else next(filter(None, map(shutil.which, _PLAYERS)), None)
    if player is not None:
        with suppress(OSError, subprocess.SubprocessError):
            subprocess.run(  # noqa: S603  one of the players above, and a file of our own
                [player, str(_wave_file(cue))],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                timeout=_MOST_PLAYING_S,
                check=True,
                start_new_session=True,
            )
            return
    for quiet_s in _RINGS_S[cue]:
        time.sleep(quiet_s)
        ring()


def _wave_file(cue: Cue) -> Path:
    """Return the file that holds a cue, written where it is not there yet."""
    from platformdirs import user_cache_path  # noqa: PLC0415  only where something sounds

    tones = zlib.crc32(repr(_TONES[cue]).encode())  # another coach may have other tones of that name
    path = user_cache_path("portrait-coach") / f"{cue.value.replace(' ', '-')}-{tones:08x}.wav"
    if not path.is_file():
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, wave_of(cue), is_synced=False)
    return path


def wave_of(cue: Cue) -> bytes:
    """Return a cue as a file of 16 bit samples, one channel; each tone swells and fades, so that it does not crack."""
    import wave  # noqa: PLC0415  only where something sounds

    samples = array("h")
    for height_hz, length_s in _TONES[cue]:
        count = round(length_s * _RATE_HZ)
        for number in range(count):
            swell = math.sin(math.pi * number / count)
            samples.append(round(32767 * _LOUD_FRAC * swell * math.sin(2 * math.pi * height_hz * number / _RATE_HZ)))
    written = io.BytesIO()
    with wave.open(written, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(_RATE_HZ)
        file.writeframes(samples.tobytes())
    return written.getvalue()
