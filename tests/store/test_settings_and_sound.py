"""Settings that were kept, damaged or edited by hand, and sounds by a player of the system, or by the bell."""

import io
import os
import wave
from itertools import pairwise
from pathlib import Path
from time import perf_counter, sleep

import pytest

from coach.session.cues import Cue
from coach.store.settings import Settings, SettingsError, load_settings, save_settings
from coach.store.sound import Sound, wave_of


def test_what_is_kept_is_read_again(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "settings.json"
    kept = Settings(sound=True, pedal={"f13": "go on", "b": "pause"})
    save_settings(path, kept)
    assert load_settings(path) == (kept, "")


def test_without_a_file_nothing_is_said(tmp_path: Path) -> None:
    assert load_settings(tmp_path / "settings.json") == (Settings(), "")


@pytest.mark.parametrize(
    ("text", "sentence", "left"),
    [
        ("{", "damaged", Settings()),
        ("[1]", "damaged", Settings()),
        ("[" * 50_000, "damaged", Settings()),
        ('"\ud800"', "damaged", Settings()),
        ('{"sound": 1}', "sound must be true or false", Settings()),
        ('{"sound": true, "pedal": []}', "pedal must be written like", Settings(sound=True)),
        ('{"pedal": {"b": "fly", "c": "pause"}}', "go on, take back, pause", Settings(pedal={"c": "pause"})),
        ('{"pedal": {"b": ["pause"]}}', "go on, take back, pause", Settings()),
    ],
)
def test_bad_settings_are_one_sentence_and_the_rest_holds(
    tmp_path: Path, text: str, sentence: str, left: Settings
) -> None:
    path = tmp_path / "settings.json"
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    settings, fault = load_settings(path)
    assert settings == left
    assert sentence in fault
    assert str(path) in fault
    assert fault.endswith(".")


def test_a_folder_in_the_place_of_the_settings_is_one_sentence_and_cannot_be_written_over(tmp_path: Path) -> None:
    assert "cannot be read" in load_settings(tmp_path)[1]
    with pytest.raises(SettingsError, match="cannot be kept"):
        save_settings(tmp_path, Settings())


def test_each_cue_is_a_short_sound_of_its_own_that_does_not_crack() -> None:
    found = set()
    for cue in Cue:
        with wave.open(io.BytesIO(wave_of(cue))) as file:
            assert (file.getnchannels(), file.getsampwidth()) == (1, 2)
            seconds = file.getnframes() / file.getframerate()
            samples = memoryview(file.readframes(file.getnframes())).cast("h")
        assert seconds <= (0.05 if cue is Cue.MOVE else 1)
        assert max(abs(one - other) for one, other in pairwise(samples)) < 5000
        assert max(map(abs, samples)) > 8000
        found.add(samples.tobytes())
    assert len(found) == len(Cue)


@pytest.fixture
def room(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder that is the whole path of programs, with settings and cache of its own."""
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.delenv("SSH_CONNECTION", raising=False)
    return tmp_path


def player(room: Path, *, ends: int = 0) -> Path:
    """Put a player there that writes down what it plays."""
    path, played = room / "paplay", room / "played"
    path.write_text(f'#!/bin/sh\necho "$1" >> {played}\nexit {ends}\n', encoding="utf-8")
    path.chmod(0o755)
    return played


def wait_for(rings: list[float], count: int, played: Path | None = None) -> None:
    for _ in range(500):
        if len(rings) >= count and (played is None or played.exists()):
            return
        sleep(0.01)
    pytest.fail(f"{len(rings)} rings")


@pytest.mark.parametrize("cue", Cue)
def test_the_system_s_player_plays_and_the_bell_is_quiet(room: Path, cue: Cue) -> None:
    played, rings = player(room), list[float]()
    Sound(room / "settings.json", is_on=True).play(cue, lambda: rings.append(perf_counter()))
    wait_for(rings, 0, played)
    name = Path(played.read_text(encoding="utf-8").strip())
    assert name.read_bytes() == wave_of(cue)
    assert rings == []


@pytest.mark.parametrize("why", ["none", "broken", "far away"])
def test_without_a_player_that_can_be_heard_the_bell_rings_each_cue_in_its_own_way(
    room: Path, monkeypatch: pytest.MonkeyPatch, why: str
) -> None:
    if why != "none":
        player(room, ends=int(why == "broken"))
    if why == "far away":
        monkeypatch.setenv("SSH_CONNECTION", "1.2.3.4 5 6.7.8.9 22")
    counts = []
    for cue, count in ((Cue.MOVE, 1), (Cue.TURN_OVER, 2), (Cue.REST_DUE, 3), (Cue.REST_OVER, 4)):
        rings: list[float] = []
        Sound(room / "settings.json", is_on=True).play(cue, lambda rings=rings: rings.append(perf_counter()))  # type: ignore[misc]
        wait_for(rings, count)
        counts.append(len(rings))
    assert counts == [1, 2, 3, 4]


def test_sound_is_off_until_it_is_switched_and_that_is_kept(room: Path) -> None:
    played, path = player(room), room / "settings.json"
    sound = Sound(path)
    assert sound.load() == ""
    sound.play(Cue.MOVE, pytest.fail)
    assert sound.switch() == "Sound is on."
    again = Sound(path)
    again.load()
    again.play(Cue.REST_DUE, pytest.fail)
    wait_for([], 0, played)
    assert played.read_text(encoding="utf-8").count("\n") == 1
    assert again.switch() == "Sound is off."
    assert load_settings(path)[0] == Settings()


def test_what_a_pedal_means_survives_a_switch_of_the_sound(room: Path) -> None:
    path = room / "settings.json"
    save_settings(path, Settings(pedal={"f13": "go on"}))
    sound = Sound(path)
    sound.load()
    sound.switch()
    assert sound.learned == {"f13": "pagedown"}
    assert load_settings(path)[0] == Settings(sound=True, pedal={"f13": "go on"})


def test_a_key_does_not_wait_for_a_player_that_hangs(room: Path) -> None:
    """Held by order, not by time: the call is over while the player still runs."""
    go = room / "go"
    os.mkfifo(go)
    path = room / "paplay"
    path.write_text(f"#!/bin/sh\nread line < {go}\n", encoding="utf-8")
    path.chmod(0o755)
    Sound(room / "settings.json", is_on=True).play(Cue.MOVE, pytest.fail)
    with go.open("w") as end:  # opened only once the player reads it
        end.write("\n")
