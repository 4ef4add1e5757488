"""The server as a whole: comes up, says where it is, comes back, stops, and never serves one folder twice."""

from __future__ import annotations

import os
import shutil
import signal
import socket
import ssl
import stat
import subprocess
import sys
import time
from pathlib import Path
from threading import Thread

import pytest
import requests

from tests.support.served import START, Served
from tests.support.workshop import free_port
from witnessmark.config import Settings
from witnessmark.operate import disk, serve, server_log
from witnessmark.operate.certificate import files
from witnessmark.operate.door import Door
from witnessmark.trade.ground.errors import Refusal

IDLE_BYTES = 200 << 20


@pytest.fixture(scope="module")
def served(founded_once, tmp_path_factory):
    """One running server for the tests that only look."""
    settings = Settings(tmp_path_factory.mktemp("served") / "data")
    shutil.copytree(founded_once[0], settings.data)
    with Served(settings) as server:
        yield server


def test_it_says_where_it_is_found_and_answers_there(served):
    assert served.facts["office"] == f"http://localhost:{served.http_port}"
    assert all(at.startswith("https://") and at.endswith(f":{served.https_port}") for at in served.facts["network"])
    assert requests.get(served.url + "/api/office/me", timeout=10).status_code == 401
    answer = requests.get(served.secure_url + "/api/office/me", timeout=10, verify=str(served.authority))
    assert answer.headers["Witnessmark-Protocol"] == "1"


def test_the_certificate_page_explains_and_gives_the_certificate(served):
    page = requests.get(served.facts["certificate"], timeout=10)
    given = requests.get(served.url + "/certificate/workshop-ca.crt", timeout=10)

    assert served.facts["fingerprint"] in page.text
    assert "Reed &amp; Daughter" in page.text
    assert page.text.count("<svg ") == 2
    assert given.headers["Content-Type"] == "application/x-x509-ca-cert"
    assert given.content == (served.settings.certificate / "workshop-ca.crt").read_bytes()


def test_phones_are_answered_in_the_newest_tls_and_never_in_an_old_one(served):
    context = ssl.create_default_context(cafile=served.authority)
    version, (cipher, _, bits) = tls_with(served, context)
    assert version == "TLSv1.3" and bits >= 128 and ("GCM" in cipher or "POLY1305" in cipher)
    # Before TLS 1.3, suites are named one by one: these are without forward secrecy, the first two CBC as well.
    weak = ssl.create_default_context(cafile=served.authority)
    weak.maximum_version = ssl.TLSVersion.TLSv1_2
    weak.set_ciphers("AES128-SHA:AES256-SHA:AES128-GCM-SHA256:@SECLEVEL=0")
    old = ssl.create_default_context(cafile=served.authority)
    old.set_ciphers("ALL:@SECLEVEL=0")
    with pytest.warns(DeprecationWarning):
        old.minimum_version, old.maximum_version = ssl.TLSVersion.TLSv1, ssl.TLSVersion.TLSv1_1
    for context in (weak, old):
        with pytest.raises((ssl.SSLError, ConnectionError)):
            tls_with(served, context)


def tls_with(served, context: ssl.SSLContext) -> tuple[str, tuple]:
    raw = socket.create_connection(("localhost", served.https_port), timeout=10)
    with raw, context.wrap_socket(raw, server_hostname="localhost") as line:
        return line.version(), line.cipher()


def test_the_office_is_not_reached_from_the_network_without_https(served):
    """Plain http is for this machine: the app listens there on the loopback address alone."""
    listening = {at for at in _listening() if at.endswith(f":{served.http_port}")}

    assert f"127.0.0.1:{served.http_port}" in listening
    assert f"0.0.0.0:{served.http_port}" not in listening


def test_idle_it_needs_less_than_two_hundred_megabytes(served):
    """All processes together, memory they share counted once (proportional set size)."""
    total = 0
    for pid in served.tree():
        rollup = Path(f"/proc/{pid}/smaps_rollup").read_text()
        total += next(int(line.split()[1]) for line in rollup.splitlines() if line.startswith("Pss:")) * 1024

    assert total < IDLE_BYTES, f"{total / 1e6:.0f} MB"


def test_a_second_server_on_the_same_folder_is_refused(served):
    answer = _start(served.settings, free_port(), free_port())

    assert "already being served" in answer


def test_a_part_that_dies_is_started_again(served):
    before = served.tree()
    workers = [pid for pid in before if pid != served.process.pid and _parent(pid) != served.process.pid]
    assert len(workers) == 1 + serve.PHONE_WORKERS
    for pid in workers:
        os.kill(pid, signal.SIGKILL)
    time.sleep(0.2)
    served.until_answering()
    answer = requests.get(served.secure_url + "/certificate", timeout=10, verify=str(served.authority))

    assert answer.status_code == 200
    assert set(workers).isdisjoint(served.tree())


def test_a_listener_killed_outright_comes_back(served):
    for pid in [pid for pid in served.tree() if _parent(pid) == served.process.pid]:
        os.kill(pid, signal.SIGKILL)
    time.sleep(0.5)
    served.until_answering()

    assert requests.get(served.url + "/api/office/me", timeout=10).status_code == 401


def test_told_to_stop_it_stops_all_of_it_and_lets_go_of_the_folder(founded_once, tmp_path):
    settings = Settings(tmp_path / "data")
    shutil.copytree(founded_once[0], settings.data)
    server = Served(settings).start()
    tree = server.tree()

    assert server.stop() == 0
    assert len(tree) >= 5
    assert [pid for pid in tree if Path(f"/proc/{pid}").exists()] == []
    with serve._only_one(settings):
        pass


def test_when_its_supervisor_is_killed_nothing_is_left_on_the_port(founded_once, tmp_path):
    settings = Settings(tmp_path / "data")
    shutil.copytree(founded_once[0], settings.data)
    server = Served(settings).start()
    os.kill(server.process.pid, signal.SIGKILL)
    server.process.communicate()
    until = time.monotonic() + 15
    while _taken(server.http_port) and time.monotonic() < until:
        time.sleep(0.05)

    assert not _taken(server.http_port)


def test_a_port_that_is_taken_is_named(founded_once, tmp_path):
    settings = Settings(tmp_path / "data")
    shutil.copytree(founded_once[0], settings.data)
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        answer = _start(settings, free_port(), port)

    assert f"Port {port} on 127.0.0.1 cannot be used" in answer


def test_a_folder_without_a_workshop_is_not_served(tmp_path):
    assert "holds no workshop yet" in _start(Settings(tmp_path / "empty"), free_port(), free_port())


def test_a_data_folder_on_a_network_disk_is_refused(tmp_path):
    mounts = tmp_path / "mounts"
    mounts.write_text(f"/dev/sda1 / ext4 rw 0 0\nfiler:/v /mnt/far\\040disk nfs4 rw 0 0\nx {tmp_path} cifs rw 0 0\n")

    with pytest.raises(Refusal, match="network file system .cifs."):
        serve.refuse_far_disk(Settings(tmp_path / "data"), mounts)


@pytest.mark.parametrize(
    "folder, kind, far",
    [
        ("/srv/data", "ext4", False),
        ("/mnt/far disk/data", "nfs4", True),
        ("/mnt/far diskette", "ext4", False),
        ("/home/x", "fuse.sshfs", True),
        ("/mnt/usb/data", "fuseblk", False),
        ("/vm/shared", "9p", True),
        ("/mem", "tmpfs", False),
    ],
)
def test_which_disks_are_far(tmp_path, folder, kind, far):
    mounts = tmp_path / "mounts"
    mounts.write_text(
        "/dev/sda1 / ext4 rw 0 0\nfiler:/v /mnt/far\\040disk nfs4 rw 0 0\nx@y: /home/x fuse.sshfs rw 0 0\n"
        "/dev/sdb1 /mnt/usb fuseblk rw 0 0\nhost /vm/shared 9p rw 0 0\ntmpfs /mem tmpfs rw 0 0\n"
    )

    assert disk.file_system(Path(folder), mounts) == kind
    assert disk.is_far(kind) is far


def test_the_door_on_the_network_gives_the_certificate_and_nothing_else(served):
    door = Door(files(served.settings), "127.0.0.1", 0)
    thread = Thread(target=door.serve_forever)
    thread.start()
    try:
        url = f"http://127.0.0.1:{door.server_address[1]}"
        assert served.facts["fingerprint"] in requests.get(url + "/certificate", timeout=5).text
        for path in ("/api/office/me", "/", "/certificate/authority.key", "/certificate/../keys/server.pem"):
            answer = requests.get(url + path, timeout=5, allow_redirects=False)
            assert (answer.status_code, answer.headers["Location"], answer.content) == (302, "/certificate", b"")
    finally:
        door.shutdown()
        thread.join()


# This machine's network as a test wants it: an address that comes later, and one whose port somebody else has.
ANOTHER_NETWORK = (
    """
from witnessmark.operate import certificate, serve
from pathlib import Path
import sys
came = Path(sys.argv[1]) / "cable plugged in"
certificate.lan_addresses = lambda: ["127.0.0.3", *(["127.0.0.2"] if came.exists() else [])]
serve.LOOK_SECONDS, serve.PATIENCE = 0.3, 1
"""
    + START
)


def test_a_new_address_gets_its_door_and_its_certificate_and_a_lost_door_stops_nobody(founded_once, tmp_path):
    shutil.copytree(founded_once[0], tmp_path / "data")
    server = Served(Settings(tmp_path / "data"), ANOTHER_NETWORK)
    with socket.socket() as other:
        other.bind(("127.0.0.3", server.http_port))
        other.listen()
        with server:
            (tmp_path / "data" / "cable plugged in").touch()
            page, until = "", time.monotonic() + 20
            while not page and time.monotonic() < until:
                try:
                    page = requests.get(f"http://127.0.0.2:{server.http_port}/certificate", timeout=2).text
                    secure = f"https://127.0.0.2:{server.https_port}/api/office/me"
                    assert requests.get(secure, timeout=5, verify=str(server.authority)).status_code == 401
                except requests.RequestException:
                    page = ""
                    time.sleep(0.1)
            assert server.facts["fingerprint"] in page
            assert server.process.poll() is None


def test_errors_before_signing_in_fill_a_minutes_lines_and_no_more(served):
    url, half_a_character = served.url + "/api/office/sign-in", {"name": "\ud800", "password": "a guess"}
    with requests.Session() as session:
        for _ in range(server_log.LINES + 20):
            answer = session.post(url, json=half_a_character, headers={"X-Witnessmark": "office"}, timeout=10)
            assert answer.status_code == 422
    until = time.monotonic() + 10
    while (lines := (served.settings.data / "server.log").read_text().count(" text: ")) < server_log.LINES:
        assert time.monotonic() < until
        time.sleep(0.05)

    assert lines == server_log.LINES


def test_keys_and_log_are_for_their_owner_alone(served):
    for path in (served.settings.server_key, served.settings.certificate / "authority.key"):
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE((served.settings.data / "server.log").stat().st_mode) == 0o600


def _start(settings: Settings, https_port: int, http_port: int) -> str:
    """What a server that cannot start says."""
    arguments = [sys.executable, "-c", START, str(settings.data), str(https_port), str(http_port)]
    process = subprocess.run(arguments, capture_output=True, text=True, timeout=30, check=False)
    assert process.returncode == 1 and process.stdout == ""
    return process.stderr


def _listening() -> list[str]:
    """Every `address:port` something listens on (IPv4), from the kernel's own table."""
    lines = []
    for line in Path("/proc/net/tcp").read_text().splitlines()[1:]:
        _, local, _, state, *_ = line.split()
        address, port = local.split(":")
        if state == "0A":
            lines.append(f"{socket.inet_ntoa(bytes.fromhex(address)[::-1])}:{int(port, 16)}")
    return lines


def _parent(pid: int) -> int:
    try:
        return int(Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[1])
    except FileNotFoundError:
        return 0


def _taken(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0
