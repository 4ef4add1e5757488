import { beforeEach, describe, expect, it, vi } from 'vitest'
import type { Screen } from '../trade/spoken/types.ts'
import type { WorkerRequest, Heard, WorkerReply } from './shapes.ts'

const SCREEN: Screen = { sort: 'measure', place: '', point: '', procedure: '', reading: '', quantity: '', units: [] }
const HEARD: Heard = { text: 'eight thou', proposal: null, confidence: 91, by: 'a recogniser', ms: 3, why: '' }

/** A worker that answers as the test says. */
class Beside {
  static made: Beside[] = []
  static answer: (request: WorkerRequest) => WorkerReply | 'crash' | 'never'
  onmessage: ((event: { data: WorkerReply }) => void) | null = null
  onerror: ((event: Event) => void) | null = null
  ended = false
  url: URL
  constructor(url: URL) {
    this.url = url
    Beside.made.push(this)
  }
  postMessage(request: WorkerRequest) {
    const reply = Beside.answer(request)
    if (reply === 'never') return
    queueMicrotask(() => (reply === 'crash' ? this.onerror?.(new Event('error')) : this.onmessage?.({ data: reply })))
  }
  terminate() {
    this.ended = true
  }
}

let speech: typeof import('./hear.ts')
const hear = () => speech.hear(new Float32Array(480), 48_000, SCREEN, null, [])

beforeEach(async () => {
  vi.useRealTimers()
  vi.resetModules()
  vi.stubGlobal('Worker', Beside)
  vi.stubGlobal('location', { href: 'https://workshop.test/bay/#/jobs' })
  Beside.made = []
  Beside.answer = (request) => ('pcm' in request ? { id: request.id, heard: HEARD } : { id: request.id, ready: true })
  speech = await import('./hear.ts')
  const { parts } = await import('./parts.ts')
  parts.value = { state: 'here', done: 3, of: 3, bytes: 9, missing: 0, usable: true }
})

describe('hearing beside the page', () => {
  it('one worker of our own address answers one question after another', async () => {
    await speech.warm(SCREEN, null, [])
    expect(await hear()).toEqual(HEARD)
    expect(Beside.made.map((worker) => worker.url.href)).toEqual(['https://workshop.test/bay/speech/worker.js'])
  })

  it('without the parts nothing is asked, and it is said where to fetch them', async () => {
    const { parts } = await import('./parts.ts')
    parts.value = { ...parts.value, state: 'none', usable: false }
    await expect(hear()).rejects.toThrow(/not on this phone\. Download them in Settings/)
    expect(Beside.made).toEqual([])
  })

  it('a worker that stops is told in a sentence, and the next word starts another', async () => {
    Beside.answer = () => 'crash'
    await expect(hear()).rejects.toThrow(/Speech recognition stopped on this phone/)
    expect(Beside.made[0]?.ended).toBe(true)
    Beside.answer = (request) => ({ id: request.id, heard: HEARD })
    expect(await hear()).toEqual(HEARD)
    expect(Beside.made.length).toBe(2)
  })

  it('a reason that the worker gives is passed on, and what broke once is not trusted again', async () => {
    Beside.answer = ({ id }) => ({ id, fault: 'This browser cannot run the speech parts. Bring it up to date.' })
    await expect(hear()).rejects.toThrow('This browser cannot run the speech parts. Bring it up to date.')
    expect(Beside.made[0]?.ended).toBe(true)
  })

  it('a worker that hangs is ended', async () => {
    vi.useFakeTimers()
    Beside.answer = () => 'never'
    const refusal = expect(hear()).rejects.toThrow(/took too long/)
    await vi.advanceTimersByTimeAsync(45_000)
    await refusal
    expect(Beside.made[0]?.ended).toBe(true)
  })

  it('lets the worker go with its memory when nobody has spoken for three minutes', async () => {
    vi.useFakeTimers()
    await hear()
    await vi.advanceTimersByTimeAsync(179_000)
    expect(Beside.made[0]?.ended).toBe(false)
    await vi.advanceTimersByTimeAsync(2000)
    expect(Beside.made[0]?.ended).toBe(true)
  })
})
