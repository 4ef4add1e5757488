import { afterEach, describe, expect, it, vi } from 'vitest'
import { hearAlong, platformHears } from './platform.ts'

const TRACK = {} as MediaStreamTrack

/** A browser's recogniser: what it answers when asked whether it works here, and what was made of it. */
function browser(answer: string, knows = true) {
  const made: Record<string, unknown>[] = []
  class Own {
    static available = vi.fn(async (_: object) => answer)
    start = vi.fn()
    stop = vi.fn()
    constructor() {
      if (knows) Object.assign(this, { processLocally: false })
      made.push(this as unknown as Record<string, unknown>)
    }
  }
  vi.stubGlobal('SpeechRecognition', Own)
  return { made, available: Own.available }
}

afterEach(() => vi.unstubAllGlobals())

describe("the browser's own recogniser", () => {
  it('is asked whether it works on this phone, and for nothing else', async () => {
    const { available } = browser('available')
    expect(await platformHears()).toBe(true)
    expect(available).toHaveBeenCalledWith({ langs: ['en-GB'], processLocally: true })
  })

  it.each(['downloadable', 'downloading', 'unavailable'])('%s is not here: it is never started and nothing is fetched for it', async (answer) => {
    const { made } = browser(answer)
    expect(await platformHears()).toBe(false)
    await hearAlong(TRACK, () => undefined)
    expect(made).toEqual([])
  })

  it('one that only works by sending sound away is not used: no question, no start', async () => {
    vi.stubGlobal('SpeechRecognition', undefined)
    vi.stubGlobal('webkitSpeechRecognition', class {})
    expect(await platformHears()).toBe(false)
  })

  it('one that does not know the word for keeping to the phone is not started', async () => {
    const { made } = browser('available', false)
    await hearAlong(TRACK, () => undefined)
    expect(made[0]?.start).not.toHaveBeenCalled()
  })

  it('hears along, kept to this phone, and tells the text so far', async () => {
    const { made } = browser('available')
    const texts: string[] = []
    const end = await hearAlong(TRACK, (text) => texts.push(text))
    const recogniser = made[0] as { processLocally: boolean; start: unknown; stop: unknown; onresult: (event: object) => void }
    expect(recogniser.processLocally).toBe(true)
    expect(recogniser.start).toHaveBeenCalledWith(TRACK)
    recogniser.onresult({ results: [[{ transcript: 'the oil pump ' }], [{ transcript: ' was full of metal' }]] })
    expect(texts).toEqual(['the oil pump was full of metal'])
    end()
    expect(recogniser.stop).toHaveBeenCalled()
  })
})
