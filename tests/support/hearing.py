"""Committed clips given to the worker that hears, in a real page. What the two say: pwa/src/speech/shapes.ts."""

from __future__ import annotations

import base64
from typing import Any

from playwright.sync_api import Page

from tests.support.clips import clip
from tests.support.record import a_v6

_HEAR = """async ({ clips, subject }) => {
  const worker = new Worker('speech/worker.js', { type: 'module' })
  const answer = (asked) => new Promise((yes, no) => {
    worker.onmessage = ({ data }) => (data.fault ? no(new Error(data.fault)) : yes(data))
    worker.onerror = () => no(new Error('the worker stopped'))
    worker.postMessage(asked)
  })
  try {
    const began = performance.now()
    await answer({ id: -1, subject })
    const warm_ms = performance.now() - began
    const heard = []
    for (const [id, clip] of clips.entries()) {
      const bytes = Uint8Array.from(atob(clip), (letter) => letter.charCodeAt(0)).buffer
      const sound = await new OfflineAudioContext(1, 1, 48000).decodeAudioData(bytes)
      const asked = { id, subject, pcm: sound.getChannelData(0), rate: sound.sampleRate }
      heard.push({ ...(await answer(asked)).heard, seconds: sound.duration })
    }
    return { warm_ms, heard }
  } finally {
    worker.terminate()
  }
}"""


def screen(sort: str, **about: Any) -> dict[str, Any]:
    """A screen of the phone that asks for nothing in particular, but what is told."""
    nothing = {"place": "", "point": "", "procedure": "", "reading": "", "quantity": "", "units": []}
    return {"sort": sort, **nothing, **about}


def hear(page: Page, files: list[str], about: dict[str, Any]) -> dict[str, Any]:
    """A fresh worker made ready for the screen and given the clips: {"warm_ms", "heard": [Heard and "seconds"]}."""
    clips = [base64.b64encode(clip(file)).decode() for file in files]
    subject = {"screen": about, "engine_type": a_v6(), "own": []}
    return page.evaluate(_HEAR, {"clips": clips, "subject": subject})
