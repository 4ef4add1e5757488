import type { EngineType } from '../../trade/engine/parts.ts'
import type { Result as Heard } from '../../trade/spoken/notes.ts'
import type { HeardWord } from '../../trade/spoken/timed_words.ts'

// What the read API answers, as the office understands it. Nothing here computes.

export interface Person {
  id: string
  name: string
  role: 'manager' | 'technician'
  active?: boolean
  has_password?: boolean
  has_pin?: boolean
}

export interface Head {
  size: number
  root: string
  time: string
}

export interface Me {
  person: Person
  workshop: { id: string; name: string }
  server: string
  epoch: string
  head: Head | null
  demo: boolean
}

export interface JobLine {
  id: string
  number: string
  vehicle: string
  registration: string
  engine_type: string
  engine_type_name: string
  engine_number: string
  stage: string | null
  complaint: string
  entries: number
  pictures: number
  missing_media: number
  opened: string | null
  last: string | null
  earlier_visits: number
}

export interface CheckItem {
  stage: string
  item: string
  words: string
  ticked: boolean
  by: string
  when: string | null
  note: string
}

export interface Visit {
  job: string
  number: string
  opened: string | null
  distance: string
  distance_unit: string
  complaint: string
}

export interface Job extends JobLine {
  distance: string
  distance_unit: string
  received_as: string
  earlier_job: string
  engine_type_data: EngineType | null
  people: { id: string; name: string; entries: number }[]
  devices: { id: string; name: string; clock_offset_ms: number | null }[]
  kinds: Record<string, number>
  stages: { code: string; name: string; entries: number }[]
  tallies: Record<string, number>
  checklist: CheckItem[]
  visits: Visit[]
}

export interface Media {
  sha256: string
  type: string
  length: number
  role: 'original' | 'audio' | 'document'
  name: string
  here: boolean
  preview: boolean
}

export interface Correction {
  id: string
  exhibit: number
  by: Named
  reason: string
  /** New values by field; a new place under `location`. */
  changes: Record<string, unknown>
}

/** A person as an answer names them; older answers give the name alone. */
export type Named = string | { id: string; name: string }

export interface Item {
  exhibit: number
  position: number
  id: string
  hash: string
  kind: string
  title: string
  text: string
  stage: string | null
  claimed: string
  received: string
  attested: string | null
  offset_ms: number | null
  author: { id: string; name: string }
  device: { id: string; name: string }
  place: string | null
  place_name: string
  point: string
  media: Media[]
  body: Record<string, unknown>
  corrected_by: Correction[]
  corrects: { id: string; exhibit: number } | null
  withdrawn: { id: string; exhibit: number; reason: string; by?: Named } | null
  /** Seconds from the claimed time, set right by the clock's offset, to receipt; 0 when under a minute. */
  late_s: number
  job?: { id: string; number: string; vehicle: string }
  /** Of a spoken note: what was heard in it, and who stands behind the words. */
  spoken?: Note | null
}

export interface WholeEntry extends Item {
  bytes: string
  signature: string
  stamp: string
  previous: string
  sequence: number
}

export interface Page {
  items: Item[]
  /** Cursors to go on with; null at an end. */
  next: number | null
  previous: number | null
  /** Null when there are more than the server counts. */
  total: number | null
  also?: string[]
}

export type { EngineType }

export interface Owner {
  name: string
  phone: string
  mail: string
}

export interface Phone {
  id: string
  name: string
  letter: string
  enrolled: string
  last_seen: string | null
  platform: string
  /** Highest number the phone ever spoke of, and highest one accounted for here. */
  announced: number
  received: number
  clock_offset_ms: number | null
  /** When it was shut out. */
  revoked: string | null
  revoked_reason: string
}

export interface Invitation {
  code: string
  url: string
  qr_svg: string
  expires: string
}

export interface Pack {
  id: string
  sort: 'sealed' | 'customer'
  state: 'waiting' | 'working' | 'ready' | 'failed'
  done: number
  total: number
  words: string
  size: number | null
  sha256: string | null
  name: string
  created: string
}

export interface Location {
  place: string
  point: string
}

export interface NewEntry {
  job: string | null
  kind: string
  location: Location | null
  body: Record<string, unknown>
  media: { sha256: string; length: number; type: string; name: string; role: Media['role'] }[]
}

/** A record that was accepted from the sound, and what a recogniser made of the same words. */
export interface Questioned {
  id: string
  exhibit: number | null
  recorded: string
  heard: string
  parts: string[]
}

export interface Note {
  state: 'waiting' | 'nothing' | 'text' | 'agree' | 'differ' | 'confirmed' | 'undecodable'
  text: string
  by: 'machine' | 'person' | ''
  words?: HeardWord[]
  engine: string
  results: Result[]
  query: { records: Questioned[] } | null
  confirmed: { id: string; author: Named; claimed: string; remark: string } | null
  records: { id: string; exhibit: number | null; said: string }[]
  /** Why it cannot be decoded, or only in part. */
  why: string
}

/** What one recogniser heard; lists of sounds leave its words out. */
export type Result = Omit<Heard, 'words'> & { words?: HeardWord[] }
