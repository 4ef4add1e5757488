"""The speech parts on the phone: fetched once when asked for, checked, kept through updates, hearing with no server."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
from playwright.sync_api import Error

from tests.support.bay import Bay
from tests.support.clips import CLIPS
from tests.support.hearing import hear, screen
from tests.support.waiting import expect
from tests.support.workshop import serving

pytestmark = [pytest.mark.browser, pytest.mark.whole_browser]

MINUTE = 60_000

KEPT = """async () => {
  const kept = []
  for (const name of await caches.keys()) {
    if (!name.startsWith('witnessmark-speech-')) continue
    for (const { url } of await (await caches.open(name)).keys()) kept.push(url.split('/bay/speech/')[1])
  }
  return kept.sort()
}"""

DAMAGE = """async (part) => {
  for (const name of await caches.keys()) {
    const cache = await caches.open(name)
    for (const { url } of name.startsWith('witnessmark-speech-') ? await cache.keys() : []) {
      if (!url.endsWith(part)) continue
      const kept = await cache.match(url)
      const bytes = new Uint8Array(await kept.arrayBuffer())
      bytes[bytes.length >> 1] ^= 1
      await cache.put(url, new Response(bytes, { headers: kept.headers }))
    }
  }
}"""


@dataclass
class Apart:
    """A server of this test's own with an app of its own, that can be changed and stopped."""

    app: Path
    server: serving
    url: str = ""

    def stop(self) -> None:
        self.server.__exit__()

    def change(self, part: str, to) -> None:
        path = self.app / "bay" / "speech" / part
        path.write_bytes(to(path.read_bytes()))
        path.with_name(path.name + ".br").unlink(missing_ok=True)

    def new_build(self, part: str) -> None:
        """Puts a build over it that differs in one speech part."""
        self.change(part, lambda before: before + b"\n")
        listed = self.app / "bay" / "speech" / "parts.json"
        before = listed.read_bytes()
        answer = json.loads(before)
        for file in answer["files"]:
            if file["name"] == part:
                body = (self.app / "bay" / "speech" / part).read_bytes()
                file |= {"size": len(body), "sha256": hashlib.sha256(body).hexdigest()}
        answer["hash"] = hashlib.sha256(json.dumps(answer).encode()).hexdigest()
        self.change("parts.json", lambda _: json.dumps(answer).encode())
        self.rebuild_worker(before, listed.read_bytes())

    def another_build(self) -> None:
        """Puts a build over it that differs in nothing of the speech parts."""
        icon = self.app / "bay" / "icon.svg"
        before = icon.read_bytes()
        icon.write_bytes(before + b"<!-- the next build -->\n")
        self.rebuild_worker(before, icon.read_bytes())

    def rebuild_worker(self, before: bytes, after: bytes) -> None:
        path = self.app / "bay" / "sw.js"
        worker = path.read_text()
        swapped = worker.replace(hashlib.sha256(before).hexdigest(), hashlib.sha256(after).hexdigest())
        assert swapped != worker
        build = hashlib.sha256(swapped.encode()).hexdigest()[:12]
        path.write_text(re.sub(r"\b[0-9a-f]{12}\b", build, swapped))


@pytest.fixture
def apart(workshop, built, tmp_path):
    app = tmp_path / "app"
    shutil.copytree(built, app)
    server = serving(replace(workshop.settings, app_folder=app), workers=1)
    here = Apart(app, server)
    here.url = server.__enter__()
    yield here
    here.stop()


@pytest.fixture
def asked_for(bays, apart):
    """A phone of that server, and every address its pages and workers ask for."""
    bay: Bay = bays(url=apart.url)
    addresses: list[str] = []
    bay.context.on("request", lambda request: addresses.append(request.url))
    return bay, addresses


def parts_in(addresses: list[str]) -> list[str]:
    """The speech parts among them, without the list."""
    names = [url.split("/bay/speech/")[1].split("?")[0] for url in addresses if "/bay/speech/" in url and "?" in url]
    return sorted(names)


def to_settings(bay: Bay) -> None:
    bay.page.goto(f"{bay.url}/bay/#/settings")
    expect(bay.page.get_by_role("heading", name="Speech on this phone")).to_be_visible()


def fetch_all(bay: Bay, button: str = "Download the speech parts") -> None:
    to_settings(bay)
    bay.page.get_by_role("button", name=button).click()
    expect(bay.page.get_by_text("The speech parts are on this phone")).to_be_visible(timeout=MINUTE)


def listed(apart: Apart) -> list[str]:
    answer = json.loads((apart.app / "bay" / "speech" / "parts.json").read_text())
    return sorted(file["name"] for file in answer["files"])


def test_fetched_once_they_hear_with_the_server_stopped_and_the_network_off(asked_for, apart):
    bay, addresses = asked_for
    to_settings(bay)
    expect(bay.page.get_by_text("The speech parts are not on this phone. They take 7 MB")).to_be_visible()
    bay.page.reload()
    assert parts_in(addresses) == [], "parts were fetched before anybody asked"
    fetch_all(bay)
    assert parts_in(addresses) == listed(apart), "each part once"
    assert bay.page.evaluate(KEPT) == sorted([*listed(apart), "parts.json"])

    apart.stop()
    bay.signal(there=False)
    bay.page.reload()
    expect(bay.page.get_by_text("The speech parts are on this phone")).to_be_visible()
    files = ["bore_3_thrust.webm", "main_4.webm", "rain_chatter.webm"]
    heard = hear(bay.page, files, screen("measure"))["heard"]
    assert [result["text"] for result in heard] == [CLIPS[files[0]]["words"], CLIPS[files[1]]["words"], ""]
    assert heard[0]["proposal"]["value"] == "88.94" and heard[0]["proposal"]["unit"] == "mm"
    assert heard[0]["proposal"]["place"] == "bore/3"
    assert {url.split("/")[2] for url in addresses if url.startswith("http")} == {apart.url.split("/")[2]}
    assert parts_in(addresses) == listed(apart), "a part was asked for again"

    # A card that forgets a bit: what no longer is what was fetched is not heard with.
    bay.page.evaluate(DAMAGE, "/en-us/means")
    with pytest.raises(Error, match="The speech file en-us/means is damaged on this phone. Remove the speech parts"):
        hear(bay.page, files[:1], screen("measure"))


def test_a_part_with_one_byte_changed_is_refused_and_the_rest_waits_for_the_right_one(asked_for, apart):
    bay, addresses = asked_for
    good = (apart.app / "bay" / "speech" / "en-us" / "means").read_bytes()
    apart.change("en-us/means", lambda body: body[:400_000] + bytes([body[400_000] ^ 1]) + body[400_001:])
    to_settings(bay)
    bay.page.get_by_role("button", name="Download the speech parts").click()
    expect(bay.page.get_by_text("What came is not the en-us/means that this app needs")).to_be_visible(timeout=MINUTE)
    assert "en-us/means" not in bay.page.evaluate(KEPT)
    apart.change("en-us/means", lambda _: good)
    addresses.clear()
    before = bay.page.evaluate(KEPT)
    fetch_all(bay, "Download the rest")
    assert parts_in(addresses) == sorted(set(listed(apart)) - set(before))

    bay.page.get_by_role("button", name="Remove the speech parts").click()
    expect(bay.page.get_by_text("The speech parts are not on this phone")).to_be_visible()
    assert bay.page.evaluate(KEPT) == []


def update(bay: Bay) -> None:
    bay.page.evaluate("navigator.serviceWorker.getRegistration('/bay/').then(r => r.update())")
    with bay.page.expect_navigation():
        bay.page.get_by_role("button", name="Update the app").click(timeout=MINUTE)


def test_an_update_of_the_app_keeps_them_and_brings_only_what_changed(asked_for, apart):
    bay, addresses = asked_for
    fetch_all(bay)
    addresses.clear()
    apart.another_build()
    update(bay)
    expect(bay.page.get_by_text("The speech parts are on this phone")).to_be_visible()
    assert parts_in(addresses) == []

    apart.new_build("worker.js")
    update(bay)
    bay.eventually(lambda: parts_in(addresses) == ["worker.js"], why=lambda: str(parts_in(addresses)))
    expect(bay.page.get_by_text("The speech parts are on this phone")).to_be_visible()
    assert bay.page.evaluate(KEPT) == sorted([*listed(apart), "parts.json"])
