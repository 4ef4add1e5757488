// The shapes of /api/sync, as DEVELOPERS.md tells them.
import type { Person } from '../store/index.ts'

export interface Identified {
  server: string
  epoch: string
  protocol: number
  time: string
}

export interface SignedHead {
  bytes: string
  signature: string
}

export interface Joined extends Identified {
  server_key: string
  workshop: { id: string; name: string }
  device: { id: string; name: string; letter: string }
  token: string
  people: Person[]
}

export interface State extends Identified {
  workshop: { id: string; name: string }
  device: { id: string; name: string; letter: string; last_sequence: number; last_hash: string; revoked: boolean }
  people: Person[]
  head: SignedHead
  size: number
  chunk_bytes: number
  durable_size: number
  build: string
}

export interface Result {
  id: string
  hash: string
  result: 'stored' | 'duplicate' | 'refused' | 'later'
  code: string
  message: string
  position: number | null
  received: string | null
  stamp: string | null
}

export interface Pushed extends Identified {
  results: Result[]
  head: SignedHead
  last_sequence: number
}

export interface PulledEntry {
  position: number
  bytes: string
  signature: string
  received: string
  offset_ms: number | null
}

export interface Page extends Identified {
  feed: string
  entries: PulledEntry[]
  next: number
  more: boolean
  size: number
  head: SignedHead
}
