// One life of the app on a phone, from its opening until it is closed or killed: its own globals, its own modules.
import { classes } from './fake.ts'
import { opened, Steps } from './store_faults.ts'
import { subtle } from './subtle.ts'
import { random } from './turns.ts'

export interface Answer {
  status: number
  headers: [string, string][]
  body: string // base64
  cut: boolean
}

export interface Sent {
  method: string
  path: string
  headers: Record<string, string>
  body: string // base64
}

interface Timer {
  due: number
  work: () => void
}

/** What outlives the app on a phone. */
export interface Disk {
  store: unknown
  marks: Map<string, string>
}

/** The app as a function of these globals. */
export type App = (names: string[]) => (...globals: unknown[]) => unknown

export interface World {
  now: () => number
  skew: () => number
  send: (life: Life, sent: Sent, keep: (answer: Answer) => void, fail: (fault: unknown) => void) => void
}

const bytesOf = (base64: string): ArrayBuffer => new Uint8Array(Buffer.from(base64, 'base64')).buffer as ArrayBuffer

export class Life {
  readonly steps = new Steps()
  readonly page: any
  readonly timers = new Map<number, Timer>()
  private number = 0

  constructor(app: App, disk: Disk, seed: number, private readonly world: World) {
    const globals = this.globals(disk, random(seed))
    this.page = app(Object.keys(globals))(...Object.values(globals))
  }

  die(): void {
    this.steps.die()
    this.timers.clear()
  }

  private globals(disk: Disk, chance: () => number): Record<string, unknown> {
    const { world, timers } = this
    const born = world.now()
    const wall = () => world.now() + world.skew()
    class PageDate extends Date {
      constructor(...given: []) {
        super(...((given.length ? given : [wall()]) as []))
      }
      static override now = wall
    }
    const crypto = {
      subtle,
      getRandomValues(bytes: Uint8Array) {
        for (let at = 0; at < bytes.length; at += 3) {
          const three = Math.floor(chance() * 2 ** 24)
          bytes[at] = three
          bytes[at + 1] = three >> 8
          bytes[at + 2] = three >> 16
        }
        return bytes
      },
    }
    const marks = { getItem: (name: string) => disk.marks.get(name) ?? null, setItem: (name: string, value: string) => void disk.marks.set(name, value) }
    const nothing = () => undefined
    return {
      ...classes,
      indexedDB: opened(disk.store, this.steps),
      crypto,
      Date: PageDate,
      performance: { now: () => world.now() - born },
      Math: Object.assign(Object.create(Math), { random: chance }),
      setTimeout: (work: () => void, wait = 0) => (timers.set(++this.number, { due: world.now() + wait, work }), this.number),
      clearTimeout: (number: number) => void timers.delete(number),
      AbortSignal: { timeout: () => null },
      Blob: PlainBlob,
      fetch: (path: string, init: RequestInit) => this.fetch(path, init),
      navigator: { userAgent: 'simulated' },
      localStorage: marks,
      document: { addEventListener: nothing, visibilityState: 'visible' },
      addEventListener: nothing,
      BroadcastChannel: undefined,
      Worker: undefined,
      createImageBitmap: undefined,
      location: undefined,
      globalThis: { isSecureContext: true, crypto },
    }
  }

  private async fetch(path: string, { method = 'GET', headers, body }: RequestInit): Promise<unknown> {
    const bytes = body instanceof Blob ? Buffer.from(blobs.get(body) ?? new ArrayBuffer(0)) : typeof body === 'string' ? Buffer.from(body) : Buffer.from((body as ArrayBuffer | undefined) ?? new ArrayBuffer(0))
    const sent = { method, path, headers: headers as Record<string, string>, body: bytes.toString('base64') }
    const answer = await new Promise<Answer>((keep, fail) => this.world.send(this, sent, keep, fail))
    const whole = () => {
      if (answer.cut) throw new TypeError('the connection was cut')
      return bytesOf(answer.body)
    }
    return {
      status: answer.status,
      ok: answer.status >= 200 && answer.status < 300,
      headers: new Headers(answer.headers),
      arrayBuffer: async () => whole(),
      json: async () => JSON.parse(Buffer.from(whole()).toString()),
    }
  }
}

// A Blob gives its bytes in a turn of its own that nobody counts: they are remembered where it is made.
const blobs = new WeakMap<Blob, ArrayBuffer>()
export class PlainBlob extends Blob {
  constructor(parts: BlobPart[], options?: BlobPropertyBag) {
    super(parts, options)
    const only = parts[0]
    if (only instanceof ArrayBuffer) blobs.set(this, only)
  }
}
