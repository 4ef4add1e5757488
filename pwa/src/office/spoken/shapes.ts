// What the server tells of spoken notes. Nothing here computes.

import type { Result as Heard } from '../../trade/spoken/notes.ts'
import type { HeardWord } from '../../trade/spoken/timed_words.ts'
import type { Item, Named } from '../frame/shapes.ts'

/** What one recogniser heard; lists of sounds leave its words out. */
export type Result = Omit<Heard, 'words'> & { words?: HeardWord[] }

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

export interface SpokenItem extends Item {
  spoken: Note
}

export interface Recogniser {
  id: string
  usable: boolean
  why: string
  /** What to do about it. */
  next: string
}

export interface Tally {
  waiting: number
  /** Their files are still on the phones. */
  coming: number
  transcribed: number
  confirmed: number
  queries: number
  undecodable: number
  recognisers: Recogniser[]
}
