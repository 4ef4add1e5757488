// What the server tells of spoken notes. Nothing here computes.

import type { Item, Note } from '../frame/shapes.ts'

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
