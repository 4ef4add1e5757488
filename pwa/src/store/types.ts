// The shapes stored on this phone. Added to, never changed: rows written by an older build must stay readable.
import type { JobFacts } from '../trade/record/jobs.ts'
import type { Clock, Links, Location } from '../trade/ground/entry.ts'

export type { Clock, Location }

export interface MediaItem {
  length: number
  name: string
  role: 'original' | 'audio' | 'document'
  sha256: string
  /** Of a picture: the hash of its pixels alone. Missing in records from before it was signed. */
  scan_sha256?: string
  type: string
}

export type Body = Record<string, unknown>

/** The signed fact, exactly the keys of the wire. */
export interface Entry {
  author: string
  body: Body
  claimed: string
  clock: Clock
  device: string
  id: string
  job: string | null
  kind: string
  links?: Links
  location: Location | null
  media: MediaItem[]
  previous: string
  sequence: number
  stage: string | null
  version: number
  workshop: string
}

/** An entry with its canonical bytes, their SHA-256 and this phone's signature over them. */
export interface Sealed {
  entry: Entry
  bytes: Uint8Array
  hash: string
  signature: string
}

/** A row of `entries`. `at` orders a job's records: the position once received, far above all positions before. */
export interface EntryRow {
  id: string
  hash: string
  bytes: ArrayBuffer
  signature: string
  entry: Entry
  kind: string
  job: string
  device: string
  sequence: number
  about: string
  words: string
  mine: 0 | 1
  position: number | null
  received: string | null
  at: number
}

/** Where this phone's own records stand before the server has given them a position. */
export const WAITING_AT = 2 ** 52

export interface MediaChunk {
  sha256: string
  n: number
  bytes: ArrayBuffer
}

/** What is known of one original: `chunks` 0 once its bytes were freed; `here` when the server confirmed that it holds it. */
export interface MediaFacts {
  sha256: string
  length: number
  type: string
  role: MediaItem['role']
  name: string
  entry: string
  chunks: number
  here: string | null
  freed: string | null
}

export interface PreviewRow {
  sha256: string
  small: ArrayBuffer | null
  large: ArrayBuffer | null
  failed: boolean
}

export type OutboxSort = 'entry' | 'preview' | 'media'

/** One thing to send. `ready` 0 until its bytes were read back and hashed, or while it lies on the shelf. */
export interface OutboxRow {
  key: string
  schema: 1
  sort: OutboxSort
  id: string
  role: MediaItem['role'] | ''
  order: number
  ready: 0 | 1
}

/** What the server refused, with its reason. Never deleted by itself. */
export interface ShelfRow {
  key: string
  sort: OutboxSort
  id: string
  code: string
  message: string
  since: string
  settled: boolean
}

export interface Receipt {
  id: string
  hash: string
  position: number
  received: string
  stamp: string
  epoch: string
  /** From the stamp up to the root of `head`, which the server signed; missing in what an older build kept. */
  path?: string[]
  head?: { bytes: string; signature: string }
}

export interface Pin {
  salt: string
  iterations: number
  hash: string
}

export interface Person {
  id: string
  name: string
  role: string
  active: boolean
  pin?: Pin | null
}

export interface Phone {
  workshop: { id: string; name: string }
  device: { id: string; name: string; letter: string }
  server: string
  serverKey: string
  epoch: string
  token: string
  joined: string
}

export interface Chain {
  sequence: number
  hash: string
}

export interface MeasuredClock {
  offset_ms: number
  round_trip_ms: number
  boot: string
  monotonic_ms: number
  wall_ms: number
}

export interface Job extends JobFacts {
  id: string
  opened: string
  at: number
  chosen: boolean
  waiting: boolean
}

/** How far a feed is here: everything from `low` to `high` is held; `done` when nothing older is missing. */
export interface Cursor {
  feed: string
  epoch: string
  low: number | null
  high: number
  done: boolean
}

export interface Device {
  id: string
  name: string
  letter: string
  public_key: string
  revoked: boolean
}

export interface Draft {
  key: string
  value: unknown
  changed: string
}

/** Sound being recorded, or left behind by an interruption: chunk n lies in `sound` under [id, n]. */
export interface SoundFacts {
  id: string
  where: { job: string; place: string; point: string }
  author: string
  caption: string
  type: string
  started: string
  chunks: number
  duration_ms: number
  /** The fields of sound_recorded about what it is for; missing in what an older build recorded. */
  to?: { mode: 'note' | 'measure'; screen: 'none' | 'measure' | 'finding' | 'tighten'; procedure: string; reading: string }
}

export interface SoundChunk {
  id: string
  n: number
  bytes: ArrayBuffer
}

/** The last signed head seen from the server, kept for every epoch. */
export interface HeadSeen {
  epoch: string
  bytes: string
  signature: string
  size: number
  root: string
}

export interface EngineType {
  id: string
  name: string
  [fact: string]: unknown
}

export interface Row {
  id: string
  hash: string
  kind: string
  job: string
  place: string
  point: string
  entry: Entry
  mine: boolean
  state: 'waiting' | 'received' | 'attention'
  position: number | null
  received: string | null
  at: number
  corrections: Row[]
  withdrawn: Row | null
}

export interface Tick {
  stage: string
  item: string
  ticked: boolean
  note: string
  by: string
  claimed: string
}
