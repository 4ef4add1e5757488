"""A pack made to fool or to stop its reader: the verifier's screen cannot be forged, nothing makes it crash or hang."""

from __future__ import annotations

import copy
import json
import subprocess
import sys
import zipfile

import pytest

from tests.broken_packs.make import read, relist, write
from witnessmark.proof import layout
from witnessmark.proof.faults import Report
from witnessmark.proof.verify import verify
from witnessmark.proof.verify_cli import main, printable

CLEAR = "\x1b[2J\x1b[H"
LIE = "Result: no fault found."
TURNED = "\u202e"  # what follows is drawn from right to left


def test_text_of_a_pack_cannot_draw_over_the_result(packed, tmp_path, capsys):
    top, files = read(packed.sealed.path)
    files[layout.BAG_INFO] = files[layout.BAG_INFO].replace(b"sealed", f"{CLEAR}{LIE}\u2028{TURNED}".encode())
    files[f"data/{TURNED}{CLEAR}{LIE}"] = b""
    code = main([str(write(tmp_path / "forged.zip", top, files))])
    lines = capsys.readouterr().out.splitlines()

    assert code == 2
    assert all(line.isprintable() for line in lines)
    assert LIE not in lines and lines[-1].startswith("Result: faults found: ")
    assert any("\\x1b[2J" in line for line in lines), "what was there is shown as its code"


def test_the_name_of_the_file_itself_draws_nothing(packed, tmp_path, capsys):
    path = tmp_path / f"{CLEAR}{LIE}\n{LIE}.zip"
    path.write_bytes(packed.sealed.path.read_bytes())
    assert main([str(path)]) == 0
    lines = capsys.readouterr().out.splitlines()

    assert all(line.isprintable() for line in lines) and lines.count(LIE) == 1 and lines[-1] == LIE
    assert main([f"{CLEAR}nowhere"]) == 1
    assert capsys.readouterr().err.rstrip("\n").isprintable()


@pytest.mark.parametrize("text", ["", "Bore 3, 89,02 mm", "Kurbelwelle, größer", "\u6c17\u7b52"])
def test_what_people_write_is_shown_as_it_is(text):
    assert printable(text) == text


@pytest.mark.parametrize("encoding", ["ascii", "cp437", "utf-8"])
def test_a_terminal_that_knows_few_letters_shows_the_whole_result(packed, tmp_path, encoding):
    top, files = read(packed.sealed.path)
    files["data/größe 気筒.txt"] = b""
    pack = write(tmp_path / "letters.zip", top, files)
    (tmp_path / "verify.pyz").write_bytes(files[layout.VERIFIER])
    done = subprocess.run(
        [sys.executable, tmp_path / "verify.pyz", pack], capture_output=True, env={"PYTHONIOENCODING": encoding}
    )

    assert done.returncode == 2 and done.stderr == b""
    assert b"Result: faults found: " in done.stdout.splitlines()[-1]


def test_sixty_thousand_files_that_nobody_listed_are_counted_and_a_thousand_named(packed, tmp_path, capsys):
    """Read, sorted and told in one pass: with every fault looked for among all others it would take hours."""
    pack = tmp_path / "many.zip"
    pack.write_bytes(packed.sealed.path.read_bytes())
    with zipfile.ZipFile(pack, "a") as archive:
        top = archive.namelist()[0].split("/")[0]
        for number in range(60_000):
            archive.writestr(f"{top}/data/{number}", b"")
    assert main([str(pack)]) == 2
    lines = capsys.readouterr().out.splitlines()

    assert int(lines[-1].rsplit(" ", 1)[1].rstrip(".")) >= 60_000
    assert Report.MOST < len(lines) < Report.MOST + 100


@pytest.mark.parametrize("path", [layout.RECEIPTS, layout.MEDIA])
@pytest.mark.parametrize("line", [b"", b"{}", b"[]"])
def test_a_list_with_millions_of_lines_is_read_as_far_as_it_can_be_true(packed, tmp_path, path, line):
    """As many as there are records or files, and a thousand that are named; what comes behind is one fault."""
    top, files = read(packed.sealed.path)
    report = verify(write(tmp_path / "lines.zip", top, files | {path: files[path] + (line + b"\n") * 3_000_000}))
    beyond = len(files[path].splitlines()) + Report.MOST + 1

    assert report.number < Report.MOST + 100
    assert report.faults_more or any(fault.path == f"{path} line {beyond}" for fault in report.faults)


OTHER_TYPES = [None, True, 0, -1, 1.5, "", "x", [], {}, [None], {"a": []}, "9" * 5000, 10**40, TURNED]


def values_in(value: object, at: tuple = ()) -> list[tuple]:
    """The way to every value inside, the whole first."""
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [at, *(way for name, one in inside for way in values_in(one, (*at, name)))]


def put(value: object, way: tuple, other: object) -> object:
    if not way:
        return other
    changed = copy.deepcopy(value)
    place = changed
    for name in way[:-1]:
        place = place[name]
    place[way[-1]] = other
    return changed


@pytest.mark.parametrize("path", [layout.PACK, layout.HEAD, layout.MEDIA, layout.RECEIPTS, layout.ENTRIES])
def test_no_value_of_another_type_makes_it_crash(packed, tmp_path, path):
    """Every value of a file in turn, each another wrong type, with all the lists of the bag made to fit."""
    top, files = read(packed.customer.path)
    name = next(name for name in sorted(files) if name.startswith(path))
    lines = files[name].splitlines()
    first = json.loads(lines[0])
    for number, way in enumerate(values_in(first)):
        spoiled = dict(files)
        changed = put(first, way, OTHER_TYPES[number % len(OTHER_TYPES)])
        if changed == first:
            changed = put(first, way, ["other"])
        line = json.dumps(changed, separators=(",", ":"))
        spoiled[name] = b"\n".join([line.encode(), *lines[1:]])
        relist(spoiled)
        report = verify(write(tmp_path / "typed.zip", top, spoiled))
        assert report.faults and not report.unfinished, (name, way, report.unfinished)
        assert all(str(fault) for fault in report.faults)


@pytest.mark.parametrize("data", [b"\xff\xfe", b"[" * 100_000, b"9" * 100_000, b"\n" * 100_000, b"{}", b"null", b""])
def test_no_bytes_in_place_of_a_file_make_it_crash(packed, tmp_path, data):
    top, files = read(packed.sealed.path)
    for path in sorted(name for name in files if name != layout.BAGIT and not name.startswith("data/previews/")):
        if path.startswith((layout.ENTRIES, layout.ORIGINALS)) and path != min(
            name for name in files if name.startswith(path.rsplit("/", 1)[0])
        ):
            continue  # one of each folder stands for all
        report = verify(write(tmp_path / "bytes.zip", top, files | {path: data}))
        assert report.faults and not report.unfinished, (path, report.unfinished)


def test_where_the_verifier_itself_fails_nothing_is_called_well_or_faulty(packed, capsys, monkeypatch):
    def broken(*_about):
        raise RuntimeError(f"{CLEAR}lost its way")

    monkeypatch.setattr("witnessmark.proof.record.check_chains", broken)
    assert main([str(packed.sealed.path)]) == 3
    lines = capsys.readouterr().out.splitlines()
    assert lines[-1] == "Result: not finished. No fault was found as far as it came."
    assert any(line.startswith("Check 9 was not finished") and "lost its way" in line for line in lines)
    assert all(line.isprintable() for line in lines)
    assert main([str(packed.sealed.path), "--json"]) == 3
    told = json.loads(capsys.readouterr().out)
    assert told["well"] is False and list(told["unfinished"]) == ["9"]

    monkeypatch.setattr("witnessmark.proof.verify_cli.verify", broken)
    assert main([str(packed.sealed.path)]) == 3
    assert "which says nothing of the pack" in capsys.readouterr().err


def test_a_fault_counts_though_another_check_was_not_finished(packed, tmp_path, capsys, monkeypatch):
    def broken(*_about):
        raise RuntimeError

    monkeypatch.setattr("witnessmark.proof.record.check_chains", broken)
    top, files = read(packed.sealed.path)
    assert main([str(write(tmp_path / "more.zip", top, files | {"data/more": b""}))]) == 2
    assert capsys.readouterr().out.splitlines()[-1].startswith("Result: faults found: ")


def test_a_reader_who_goes_away_before_the_end_gets_no_traceback(packed, tmp_path):
    """As with `python3 verify.pyz PACK | head -1`; the status tells that the result was not read whole."""
    (tmp_path / "verify.pyz").write_bytes(read(packed.sealed.path)[1][layout.VERIFIER])
    command = [sys.executable, tmp_path / "verify.pyz", packed.sealed.path]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        process.stdout.close()
        errors = process.stderr.read()
    assert (process.returncode, errors) == (3, b"")


def test_a_name_that_is_no_utf8_is_named(packed, tmp_path):
    pack = tmp_path / "name.zip"
    data = packed.sealed.path.read_bytes()
    with zipfile.ZipFile(packed.sealed.path) as archive:
        name = next(one for one in archive.namelist() if one.startswith(f"{one.split('/')[0]}/data/previews/"))
    pack.write_bytes(data.replace(name.encode(), name.encode()[:-5] + b"\xff.jpg"))
    report = verify(pack)

    assert not report.well
    assert all(printable(str(fault)).isprintable() for fault in report.faults)
