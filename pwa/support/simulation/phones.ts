// Phones of the simulation. Each line in is a list of actions; when all has come to rest, one line out says what became of them.
import { createInterface } from 'node:readline'
import { copyOfStore, newStore } from './fake.ts'
import { type Answer, type App, type Disk, Life, type Sent, type World } from './life.ts'
import type { StoreFault } from './store_faults.ts'
import { quiet } from './turns.ts'

/** Timers up to this long run by themselves; longer ones, the app's next turn of sending, wait for the clock to be moved. */
const SHORT_MS = 1000

interface Phone {
  disk: Disk
  life: Life | null
  skew: number
  full: boolean
}

interface Request {
  life: Life
  keep: (answer: Answer) => void
  fail: (fault: unknown) => void
}

type Action =
  | ['reset', [string, string][]?]
  | ['open', string, number]
  | ['call', string, number, string, unknown[]]
  | ['answer', number, Answer]
  | ['fail', number, 'cut' | 'late']
  | ['arm', string, StoreFault, number]
  | ['calm', string]
  | ['full', string, boolean]
  | ['skew', string, number]
  | ['kill', string]
  | ['keep', string]
  | ['given', string]
  | ['wipe', string]

let now = 0
let number = 0
let phones = new Map<string, Phone>()
let requests = new Map<number, Request>()
/** What phones held when they were kept: schedules begin with copies of them. */
const kept = new Map<string, Disk>()
let outgoing: unknown[] = []
let outcomes: unknown[] = []
let unheard: string[] = []

function phoneOf(name: string): Phone {
  let phone = phones.get(name)
  if (!phone) {
    phone = { disk: { store: newStore(), marks: new Map() }, life: null, skew: 0, full: false }
    phones.set(name, phone)
  }
  return phone
}

const copyOf = ({ store, marks }: Disk): Disk => ({ store: copyOfStore(store), marks: new Map(marks) })

const nameOf = (life: Life) => [...phones].find(([, phone]) => phone.life === life)?.[0] ?? ''

function send(life: Life, sent: Sent, keep: Request['keep'], fail: Request['fail']): void {
  if (life.steps.dead) return
  requests.set(++number, { life, keep, fail })
  outgoing.push({ number, phone: nameOf(life), ...sent })
}

/** What a call came to, unless the page it was made in is gone. */
function follow(life: Life, call: number, work: Promise<unknown>): void {
  const outcome = (end: object) => {
    if (!life.steps.dead) outcomes.push({ call, ...end })
  }
  work.then(
    (value) => outcome({ value: value ?? null }),
    (fault: unknown) => outcome({ fault: fault instanceof Error ? fault.message : String(fault), sort: fault instanceof Error ? fault.constructor.name : '' }),
  )
}

const revived = (value: unknown) =>
  value && typeof value === 'object' && 'base64' in value ? (new Uint8Array(Buffer.from(String(value.base64), 'base64')).buffer as ArrayBuffer) : value

type Load = (names: string[], changes: [string, string][]) => (...globals: unknown[]) => unknown

/** What was loaded, by its changes. */
const loaded = new Map<string, (...globals: unknown[]) => unknown>()
let changes: [string, string][] = []

function appOf(load: Load): App {
  const key = JSON.stringify(changes)
  return (names) => {
    const app = loaded.get(key) ?? load(names, changes)
    loaded.set(key, app)
    return app
  }
}

function act(action: Action, load: Load): void {
  const [what] = action
  if (what === 'reset') {
    for (const { life } of phones.values()) life?.die()
    phones = new Map()
    requests = new Map()
    number = 0
    changes = action[1] ?? []
    return
  }
  if (what === 'answer' || what === 'fail') {
    const request = requests.get(action[1])
    requests.delete(action[1])
    if (!request || request.life.steps.dead) return
    if (what === 'answer') request.keep(action[2])
    else request.fail(action[2] === 'late' ? new DOMException('', 'TimeoutError') : new TypeError('fetch failed'))
    return
  }
  const phone = phoneOf(action[1])
  if (what === 'skew') phone.skew = action[2]
  else if (what === 'open') {
    phone.life?.die()
    const world: World = { now: () => now, skew: () => phone.skew, send }
    phone.life = new Life(appOf(load), phone.disk, action[2], world)
    phone.life.steps.full = phone.full
  } else if (what === 'full') {
    phone.full = action[2]
    if (phone.life) phone.life.steps.full = action[2]
  } else if (what === 'keep') kept.set(action[1], copyOf(phone.disk))
  else if (what === 'given') phone.disk = copyOf(kept.get(action[1]) as Disk)
  else if (what === 'wipe') {
    phone.life?.die()
    phone.disk = { store: newStore(), marks: new Map() }
  } else if (!phone.life || phone.life.steps.dead) return
  else if (what === 'arm') phone.life.steps.arm(action[2], action[3])
  else if (what === 'calm') phone.life.steps.fault = null
  else if (what === 'kill') phone.life.die()
  else {
    const { page } = phone.life
    const [, , call, name, given] = action
    const work = name === 'open' ? page.open : page.act[name]
    follow(phone.life, call, (async () => work(...given.map(revived)))())
  }
}

async function rest(): Promise<void> {
  for (;;) {
    await quiet()
    let first: { life: Life; id: number; due: number } | null = null
    for (const { life } of phones.values())
      if (life && !life.steps.dead)
        for (const [id, { due }] of life.timers) if (due <= now + SHORT_MS && (!first || due < first.due)) first = { life, id, due }
    if (!first) return
    now = Math.max(now, first.due)
    const timer = first.life.timers.get(first.id)
    first.life.timers.delete(first.id)
    timer?.work()
  }
}

export async function serve(load: Load): Promise<void> {
  // In a browser a promise that nobody waits for ends in the console; it is told with the rest.
  process.on('unhandledRejection', (fault) => void unheard.push(String(fault)))
  for await (const line of createInterface({ input: process.stdin })) {
    const turn = JSON.parse(line) as { now: number; do: Action[] }
    now = turn.now
    outgoing = []
    outcomes = []
    unheard = []
    for (const action of turn.do) act(action, load)
    await rest()
    const seen: Record<string, unknown> = {}
    for (const [name, { life }] of phones)
      seen[name] = life && !life.steps.dead ? { ...life.page.seen(), steps: life.steps.taken, armed: life.steps.fault !== null } : null
    process.stdout.write(`${JSON.stringify({ now, outgoing, outcomes, unheard, seen })}\n`)
  }
}
