"""Recognisers, our own and others', are asked in a process that may die of them; nothing of theirs is in the server."""

from __future__ import annotations

import json
import os
import resource
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path
from threading import Thread

import babel
import pytest

from tests.support.clips import CLIPS, FOLDER
from tests.support.record import a_v6
from witnessmark import cli, config
from witnessmark.config import Settings
from witnessmark.speech import choosing, hear_worker, lexicon, models, states, whisper
from witnessmark.speech.fence import Ended
from witnessmark.speech.hear import Ear, Stopped, hear
from witnessmark.speech.recogniser import Unusable

SPOKEN = FOLDER / "bore_3_thrust.webm"
MAIN = FOLDER / "main_4.webm"
NOTE = FOLDER / "oil_pump_note.webm"

VOSK = """
import json

def SetLogLevel(level): pass

class Model:
    def __init__(self, model_path=None, model_name=None, lang=None):
        assert model_path and not model_name and not lang  # with either it would fetch

class KaldiRecognizer:
    def __init__(self, model, rate): self.told, self.heard = 0, 0
    def SetWords(self, on): pass
    def AcceptWaveform(self, data):
        self.heard += len(data)
        self.told += 1
        return self.told == 1
    def Result(self):
        return json.dumps({"text": "bore three", "result": [
            {"word": "bore", "start": 0.1, "end": 0.4, "conf": 1.0},
            {"word": "three", "start": 0.4, "end": 0.8, "conf": 0.5}]})
    def FinalResult(self):
        return json.dumps({"text": "heard to the end" if self.heard > 100_000 else "cut short"})
"""


@pytest.fixture
def settings(tmp_path) -> Settings:
    return Settings(tmp_path / "data")


MEASURE = {
    "sort": "measure", "place": "", "point": "", "procedure": "", "reading": "", "quantity": "", "units": [],
}  # fmt: skip


@pytest.fixture(scope="module")
def ear(tmp_path_factory):
    """Loads the models once: with all recognisers that the extras bring."""
    made = Ear(Settings(tmp_path_factory.mktemp("all")))
    yield made
    made.close()


@pytest.fixture(scope="module")
def closed(tmp_path_factory):
    made = Ear(Settings(tmp_path_factory.mktemp("closed"), speech="sphinx_ngram,sphinx_grammar"))
    yield made
    made.close()


def only(settings: Settings, *names: str) -> Settings:
    return replace(settings, speech=",".join(names))


def test_all_that_the_extras_bring_can_be_used(settings):
    """The test extra holds speech and dictation: a machine that runs this has them."""
    found = {state.id: state for state in states.states(settings, fresh=True)}

    assert [id for id, state in found.items() if state.usable] == ["sphinx_ngram", "sphinx_grammar", "whisper"]
    assert (found["sphinx_grammar"].sort, found["sphinx_grammar"].denoised) == ("closed", True)
    assert (found["whisper"].sort, found["whisper"].denoised) == ("free", False)
    assert found["whisper"].model_sha256 == whisper.KNOWN["model.bin"]
    assert "not installed" in found["vosk"].why and "pip install" in found["vosk"].next


def test_the_command_lists_what_can_be_used_and_why_others_cannot(settings, capsys, monkeypatch):
    monkeypatch.setenv("WITNESSMARK_SPEECH", "whisper, vosk, nobody")
    assert cli.main(["speech", "--data", str(settings.data)]) == 0
    told = capsys.readouterr().out

    assert "whisper         can be used" in told
    assert "vosk            cannot be used. The package vosk is not installed." in told
    assert "No recogniser is called nobody." in told and "WITNESSMARK_SPEECH" in told


def test_speech_that_is_turned_off_is_off(settings, capsys, monkeypatch):
    off = only(settings, "none")
    assert states.states(off) == []
    assert states.usable(off) == [] and not states.may_hear(off)

    monkeypatch.setenv("WITNESSMARK_SPEECH", "none")
    assert cli.main(["speech", "--data", str(settings.data)]) == 0
    assert "Speech is off" in capsys.readouterr().out
    assert cli.main(["speech", str(SPOKEN), "--data", str(settings.data)]) == cli.REFUSED


def test_settings_of_speech_reach_the_processes_behind_the_server(settings, tmp_path):
    answer = replace(settings, speech="whisper", whisper_model=tmp_path / "a", vosk_model=tmp_path / "b")

    assert config.from_environment(config.to_environment(answer)) == answer


def test_the_command_tries_one_file_and_keeps_nothing(settings, others, capsys, monkeypatch):
    others("parrot")
    monkeypatch.setenv("WITNESSMARK_SPEECH", "parrot")
    assert cli.main(["speech", str(SPOKEN), "--data", str(settings.data)]) == 0
    told = capsys.readouterr().out

    assert "bore three is fine" in told and "80 % sure" in told
    assert not settings.data.exists()
    assert cli.main(["speech", "nowhere.webm"]) == cli.REFUSED


def test_free_dictation_writes_down_a_note_with_the_time_of_each_word(settings):
    found = hear(only(settings, "whisper"), NOTE, {})
    (result,) = found.results
    words = result["words"]

    assert found.fault == "" and not found.faults
    for word in ("oil", "pump", "metal", "pickup"):
        assert word in result["text"]
    assert all(0 <= begin <= end <= found.seconds * 1000 for _, begin, end, _ in words)
    # The clip begins with half a second of quiet, which was cut off before it was heard: the times are of the whole.
    assert words[0][1] >= 200 and 500 <= words[1][1] <= 1200
    assert result["model_sha256"] == whisper.KNOWN["model.bin"]


def test_the_same_sound_is_heard_alike_each_time(ear):
    about = {"screen": MEASURE | {"quantity": "diameter"}}
    first = ear.hear(MAIN, about)
    ear.hear(SPOKEN, about)
    assert len(first.results) > 3 and ear.hear(MAIN, about).results == first.results


def test_nobody_is_asked_about_silence(ear, tmp_path):
    """A free recogniser makes up words when nobody speaks."""
    import numpy as np

    from tests.support.sounds import as_wav

    quiet = tmp_path / "quiet.wav"
    quiet.write_bytes(as_wav(np.zeros(3 * 16_000)))
    found = ear.hear(quiet, {})

    assert found.silent and len(found.results) == 3
    assert {result["text"] for result in found.results} == {""}


def test_a_recogniser_from_another_package_is_asked_like_our_own(settings, others):
    others("parrot", "sad", "broken", "liar")
    mine = only(settings, "parrot", "sad", "broken", "liar")
    told = {state.id: state for state in states.states(mine, fresh=True)}

    assert told["parrot"].usable and told["parrot"].model == "a list of one saying"
    assert (told["sad"].why, told["sad"].next) == ("It has lost its voice.", "Give it a rest.")
    assert "ZeroDivisionError" in told["broken"].why
    assert "calls itself 'somebody_else'" in told["liar"].why
    (result,) = hear(mine, SPOKEN, {}).results
    assert (result["engine"], result["text"], result["confidence"]) == ("parrot", "bore three is fine", 80)


def test_times_and_confidences_of_others_are_brought_within_their_bounds(settings, others):
    others("parrot", "chatterbox")
    found = hear(only(settings, "parrot", "chatterbox"), SPOKEN, {})
    words = found.results[0]["words"]

    assert words[1][2] <= found.seconds * 1000 and words[1][3] == 100
    assert (found.results[1]["text"], found.results[1]["confidence"]) == ("all well", 0)


def test_a_recogniser_that_fails_or_dies_costs_the_others_nothing(settings, others):
    others("glutton", "suicide", "mute", "parrot")
    found = hear(only(settings, "mute", "suicide", "glutton", "parrot"), SPOKEN, {})

    assert [result["engine"] for result in found.results] == ["parrot"]
    assert set(found.faults) == {"mute", "suicide", "glutton"}
    assert "no voice" in found.faults["mute"]
    assert "memory" in found.faults["glutton"] and "memory" in found.faults["suicide"]


def test_the_process_with_the_models_is_fenced_in_and_goes_away(settings, others, monkeypatch):
    others("parrot")
    ear = Ear(only(settings, "parrot"))
    try:
        ear.hear(SPOKEN, {})
        pid = ear.fenced.process.pid
        assert resource.prlimit(pid, resource.RLIMIT_AS)[0] == hear_worker.MEMORY
        assert resource.prlimit(pid, resource.RLIMIT_CPU)[0] < 10_000
        assert os.getpriority(os.PRIO_PROCESS, pid) >= 10
        environment = Path(f"/proc/{pid}/environ").read_bytes().split(b"\0")
        assert b"HF_HUB_OFFLINE=1" in environment

        ear.rest()
        assert ear.fenced.process.pid == pid  # there may be more in a moment
        monkeypatch.setattr("witnessmark.speech.fence.IDLE_SECONDS", 0)
        ear.rest()
        assert ear.fenced.process is None and not Path(f"/proc/{pid}").exists()
        assert ear.hear(SPOKEN, {}).results  # and comes back when it is needed
    finally:
        ear.close()


def test_an_ear_that_is_closed_blames_no_sound(settings):
    """The worker is told to stop while a note is heard: nothing is written down as if the sound were at fault."""
    ear, told = Ear(only(settings, "whisper")), []

    def listen() -> None:
        try:
            told.append(ear.hear(NOTE, {}))
        except Stopped as stopped:
            told.append(stopped)

    thread = Thread(target=listen)
    thread.start()
    until = time.monotonic() + 30
    while ear.fenced.process is None and time.monotonic() < until:
        time.sleep(0.01)
    os.kill(ear.fenced.process.pid, signal.SIGSTOP)
    ear.close()
    thread.join(30)

    assert isinstance(told[0], Stopped)


def test_a_packaged_model_is_used_only_when_it_is_the_known_one(settings, monkeypatch):
    monkeypatch.setitem(whisper.KNOWN, "model.bin", "0" * 64)
    with pytest.raises(Unusable, match="is not the known one") as refused:
        whisper.Whisper(settings)

    assert "1a5afae06a4d" in refused.value.reason and "model folder that you trust" in refused.value.next_step


def test_a_model_of_the_workshops_own_is_used_as_it_is_and_named_by_its_hash(settings, tmp_path):
    packaged = models.folder_in(whisper.PACKAGE, whisper.KNOWN, whisper.INSTALL)
    mine = tmp_path / "our-model"
    mine.mkdir()
    for name in whisper.KNOWN:
        (mine / name).symlink_to(packaged / name)
    own = replace(only(settings, "whisper"), whisper_model=mine)
    (state,) = states.states(own, fresh=True)

    assert (state.usable, state.model, state.model_sha256) == (True, "our-model", whisper.KNOWN["model.bin"])
    (result,) = hear(own, MAIN, {}).results
    assert result["model"] == "our-model" and "main journal" in result["text"].lower()

    (mine / "tokenizer.json").unlink()
    (state,) = states.states(own, fresh=True)
    assert not state.usable and "has no tokenizer.json" in state.why and "WITNESSMARK_WHISPER_MODEL" in state.next
    (state,) = states.states(replace(own, whisper_model=tmp_path / "gone"), fresh=True)
    assert not state.usable and "There is no model folder" in state.why


def test_a_vosk_model_of_the_workshops_own_is_used(settings, tmp_path, monkeypatch):
    """No model can be had from a registry, so the package is played here by its own names (vosk 0.3.45)."""
    folder, model = tmp_path / "others", tmp_path / "vosk-own"
    for part in ("am", "conf"):
        (model / part).mkdir(parents=True)
    (model / "am" / "final.mdl").write_bytes(b"invented")
    told = folder / "vosk-0.3.45.dist-info"
    told.mkdir(parents=True)
    (told / "METADATA").write_text("Metadata-Version: 2.1\nName: vosk\nVersion: 0.3.45\n")
    (folder / "vosk.py").write_text(VOSK)
    monkeypatch.setattr(sys, "path", [*sys.path, str(folder)])

    (state,) = states.states(only(settings, "vosk"), fresh=True)
    assert not state.usable and "WITNESSMARK_VOSK_MODEL" in state.next
    own = replace(only(settings, "vosk"), vosk_model=model)
    found = hear(own, SPOKEN, {})
    (result,) = found.results
    assert (result["text"], result["model"], result["confidence"]) == ("bore three heard to the end", "vosk-own", 75)
    assert result["model_sha256"] == models.hash_folder(model)
    assert [word[0] for word in result["words"]] == ["bore", "three"]


def test_without_its_packages_a_recogniser_says_what_to_install(settings, monkeypatch):
    from importlib import metadata

    def nothing(package: str) -> str:
        raise metadata.PackageNotFoundError(package)

    monkeypatch.setattr(models.metadata, "version", nothing)
    usable, why = choosing.look(settings)

    assert usable == {}
    for id, extra in (("sphinx_ngram", "speech"), ("sphinx_grammar", "speech"), ("whisper", "dictation")):
        assert "not installed" in why[id].reason and f"pip install 'witnessmark[{extra}]'" in why[id].next_step


def test_a_machine_with_no_package_at_all_is_told_what_to_install(tmp_path):
    """A Python without the packages for speech (-S, with babel alone): it answers in sentences."""
    packages = tmp_path / "packages"
    packages.mkdir()
    (packages / "babel").symlink_to(Path(babel.__file__).parent)
    path = os.pathsep.join([str(Path(models.__file__).parents[2]), str(packages)])
    environment = {"PYTHONPATH": path, "WITNESSMARK_DATA": str(tmp_path)}
    process = subprocess.run(
        [sys.executable, "-S", "-m", "witnessmark.speech.hear_worker"],
        input='{"do": "states"}\n', capture_output=True, text=True, check=True, env=environment,
    )  # fmt: skip
    found = json.loads(process.stdout)["states"]

    assert {state["id"] for state in found} == {"sphinx_ngram", "sphinx_grammar", "whisper", "vosk"}
    assert not any(state["usable"] for state in found)
    assert all("is not installed" in state["why"] and "pip install" in state["next"] for state in found)


def test_without_any_package_the_program_goes_on(settings, monkeypatch):
    monkeypatch.setattr(states.util, "find_spec", lambda name: None)

    assert not states.may_hear(settings) and states.usable(settings) == []
    assert "pip install 'witnessmark[speech]'" in states.no_decoder()


@pytest.mark.parametrize(
    "file",
    ["main_4.webm"]
    + [
        pytest.param(more, marks=pytest.mark.further_input)
        for more in ("bore_3_thrust.webm", "end_float.webm", "leakdown_6.ogg")
    ],
)
def test_the_closed_recognisers_hear_a_plain_line_word_for_word(file, closed):
    """Clean clips of three voices; what is really measured stands in tests/bench."""
    found = closed.hear(FOLDER / file, {"engine_type": a_v6(), "screen": MEASURE})

    assert {result["engine"]: result["text"] for result in found.results} == {
        "sphinx_ngram": CLIPS[file]["words"],
        "sphinx_grammar": CLIPS[file]["words"],
    }
    for result in found.results:
        assert result["denoised"] and len(result["vocabulary"]) == 64
        assert [word for word, *_ in result["words"]] == CLIPS[file]["words"].split()


def test_no_recogniser_is_told_what_was_expected():
    """The lexicon is made from screen, engine and words alone; what else is known of a sound has no way in."""
    plain = {"engine_type": None, "screen": MEASURE, "own": []}
    told = plain | {"value": "88.94", "limits": ["88.90", "88.96"], "expected": "88.94"}

    knows, asked = lexicon.lexicon(told), lexicon.lexicon(plain)
    for form in ("jsgf", "arpa", "dictionary", "prompt", "hash", "own"):
        assert getattr(knows, form) == getattr(asked, form), form
    assert "88" not in asked.prompt


def test_what_dies_after_all_have_listened_costs_nobody_his_words(settings, others, monkeypatch):
    """The recognisers' common reading comes last; what brings it down must not lose what was heard before it."""
    others("parrot")
    ear = Ear(only(settings, "parrot"))

    def dies_at_the_end(wish: dict, seconds: float):
        yield {"at": "parrot"}
        yield {"result": {"engine": "parrot"}}
        yield {"at": "chain"}
        raise Ended

    monkeypatch.setattr(ear.fenced, "ask", dies_at_the_end)
    try:
        found = ear.hear(SPOKEN, {})
    finally:
        ear.close()
    assert found.results == [{"engine": "parrot"}] and set(found.faults) == {"chain"}
