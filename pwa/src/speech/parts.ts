// The speech parts: downloaded on request, checked, stored offline, and removed on request. Nothing here hears.
import { computed, signal } from '@preact/signals'
import { CACHES, LIST, hex } from './names.ts'
import { type Part, type PartList, SPEAKS } from './shapes.ts'
import { say } from './say.ts'

/**
 * none: nothing here. partly: some files are, the rest is still to be fetched. here: all that this build of the app
 * needs. old: whole, but this build needs others. unseen: not looked yet.
 */
export interface Parts {
  state: 'unseen' | 'none' | 'partly' | 'here' | 'old'
  /** Files that are here, of so many. */
  done: number
  of: number
  /** All that is needed, and what of it is still to come, in bytes. 0 where the list could not be read. */
  bytes: number
  missing: number
  /** True where what is kept can be worked with today. */
  usable: boolean
}

export interface Fetching {
  /** Bytes that have come, of so many that have to. */
  bytes: number
  of: number
}

export const parts = signal<Parts>({ state: 'unseen', done: 0, of: 0, bytes: 0, missing: 0, usable: false })
export const fetching = signal<Fetching | null>(null)
export const usable = computed(() => parts.value.usable)

/** An update's changed files come by themselves up to this many bytes: somebody wanted the parts once. */
const BY_ITSELF = 1_500_000
const PROOF = 'Witnessmark-Part'

const at = (name: string) => new URL(`speech/${name}`, location.href).href
const bytesOf = (files: Part[]) => files.reduce((sum, file) => sum + file.size, 0)

/** The list of this very build: the service worker keeps it with the app. */
async function wanted(): Promise<PartList> {
  const got = await fetch(at(LIST), { redirect: 'error' })
  if (!got.ok) throw new Error(`${got.status}`)
  const list = (await got.json()) as PartList
  if (!Array.isArray(list.files) || !list.hash) throw new Error('no list')
  return list
}

const holds = async (cache: Cache, file: Part) => (await cache.match(at(file.name)))?.headers.get(PROOF) === file.sha256

async function speechCaches(): Promise<Cache[]> {
  const names = (await caches.keys()).filter((name) => name.startsWith(CACHES))
  return Promise.all(names.map((name) => caches.open(name)))
}

async function missingFrom(all: Cache[], list: PartList): Promise<Part[]> {
  const here = await Promise.all(list.files.map(async (file) => (await Promise.all(all.map((cache) => holds(cache, file)))).includes(true)))
  return list.files.filter((_, n) => !here[n])
}

/** Looks what is here. Never rejects: where the browser keeps no files there are no parts. */
export async function lookAtParts(): Promise<Parts> {
  const nothing: Parts = { state: 'none', done: 0, of: 0, bytes: 0, missing: 0, usable: false }
  try {
    const list = await wanted().catch(() => null)
    const all = await speechCaches()
    let whole: PartList | null = null
    for (const cache of all) whole = ((await (await cache.match(at(LIST)))?.json()) as PartList | undefined) ?? whole
    const needed = list ?? whole
    if (!needed) return (parts.value = nothing)
    const missing = await missingFrom(all, needed)
    const done = needed.files.length - missing.length
    const state = whole ? (whole.hash === needed.hash && !missing.length ? 'here' : 'old') : done ? 'partly' : 'none'
    return (parts.value = { state, done, of: needed.files.length, bytes: bytesOf(needed.files), missing: bytesOf(missing), usable: whole?.speaks === SPEAKS })
  } catch {
    return (parts.value = nothing)
  }
}

let running: Promise<void> | null = null
let stop = new AbortController()

/**
 * Fetches what is missing and nothing else; what has come stays when the rest does not. `onProgress` is called with every
 * piece. Rejects with a sentence to show. While it runs, a second call waits for the same.
 */
export function fetchParts(onProgress: (now: Fetching) => void = () => undefined): Promise<void> {
  stop = running ? stop : new AbortController()
  running ??= fetchAll(onProgress, stop.signal).finally(async () => {
    running = null
    fetching.value = null
    await lookAtParts()
  })
  return running
}

/** Ends a fetch that runs. What has come stays. */
export const stopFetching = () => stop.abort()

async function fetchAll(onProgress: (now: Fetching) => void, ended: AbortSignal): Promise<void> {
  const list = await wanted().catch(() => Promise.reject(new Error(noSignal())))
  const before = await speechCaches()
  const cache = await caches.open(CACHES + list.hash)
  const missing = await missingFrom(before, list)
  const of = bytesOf(missing)
  await seeRoom(of)
  let bytes = 0
  const come = (more: number) => {
    bytes += more
    fetching.value = { bytes, of }
    onProgress(fetching.value)
  }
  come(0)
  for (const file of list.files) {
    if (await holds(cache, file)) continue
    let kept: Response | undefined
    for (const other of before) if (await holds(other, file)) kept = await other.match(at(file.name))
    await keep(cache, file.name, kept ?? (await download(file, come, ended)))
  }
  await keep(cache, LIST, new Response(JSON.stringify(list), { headers: { 'Content-Type': 'application/json' } }))
  for (const name of await caches.keys()) if (name.startsWith(CACHES) && name !== CACHES + list.hash) await caches.delete(name)
}

/** One file, whole and with its hash as the list has it, or a sentence why not. */
async function download(file: Part, come: (bytes: number) => void, ended: AbortSignal): Promise<Response> {
  let got: Response
  const pieces: Uint8Array<ArrayBuffer>[] = []
  try {
    // The hash in the address: past whatever is kept under the plain one, here or on the way.
    got = await fetch(`${at(file.name)}?${file.sha256}`, { cache: 'no-store', redirect: 'error', signal: ended })
    if (!got.ok || !got.body) throw new Wrong(say('speech.not_on_server', { file: file.name, status: String(got.status) }))
    const reader = got.body.getReader()
    for (let read = await reader.read(); !read.done; read = await reader.read()) {
      pieces.push(read.value)
      come(read.value.length)
    }
  } catch (fault) {
    if (fault instanceof Wrong) throw fault
    throw new Error(ended.aborted ? say('speech.download_stopped') : noSignal())
  }
  const bytes = await new Blob(pieces).arrayBuffer()
  if (hex(await crypto.subtle.digest('SHA-256', bytes)) !== file.sha256) {
    throw new Error(say('speech.wrong_file', { file: file.name }))
  }
  // The server's own fence stays on it: a worker lives by the rules that came with its file.
  const headers = new Headers(got.headers)
  for (const gone of ['Content-Encoding', 'Content-Length', 'ETag', 'Vary']) headers.delete(gone)
  headers.set('Content-Type', file.type)
  headers.set(PROOF, file.sha256)
  return new Response(bytes, { headers })
}

class Wrong extends Error {}

const noSignal = () => say('speech.no_signal')
const noRoom = () => say('speech.no_room')

async function keep(cache: Cache, name: string, file: Response): Promise<void> {
  await cache.put(at(name), file).catch(() => Promise.reject(new Error(noRoom())))
}

async function seeRoom(bytes: number): Promise<void> {
  const { quota, usage } = (await globalThis.navigator?.storage?.estimate?.().catch(() => undefined)) ?? {}
  if (quota && usage !== undefined && quota - usage < bytes * 1.2) throw new Error(noRoom())
}

/** Removes them all. Records and recordings are not touched. */
export async function removeParts(): Promise<void> {
  stopFetching()
  await running?.catch(() => undefined)
  for (const name of await caches.keys()) if (name.startsWith(CACHES)) await caches.delete(name)
  await lookAtParts()
}

/** At the start of the app: after an update the few files that changed come by themselves; a large change waits for a request. */
export async function renewParts(): Promise<void> {
  const { state, missing } = await lookAtParts()
  if (state === 'old' && missing <= BY_ITSELF) await fetchParts().catch(() => undefined)
}
