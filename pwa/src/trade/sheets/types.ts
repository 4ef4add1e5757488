// What a sheet of figures is made of: the shapes that trade/sheets makes, on the phone and in the office alike. Every
// number somebody reads is text; the plain numbers under `draw` only place ink.

import type { Standing } from '../measuring/entries.ts'
import type { Limit } from '../measuring/limits.ts'

export interface Axis {
  axis: string
  words: string
  values: { code: string; words: string }[]
}

export interface Asked {
  code: string
  words: string
  quantity: string
  optional: boolean
  /** May be taken over from another procedure. */
  borrowed: boolean
}

export interface TakenValue {
  id: string
  exhibit: string
  value: string
  unit: string
  gauge: string
  gauge_id: string
  overdue: boolean
  claimed: string
}

export interface Taken {
  mean: string
  unit: string
  n: number
  scatter: string
  values: TakenValue[]
  odd: boolean
  borrowed: { procedure: string; place: string; state: string } | null
}

export interface Judged {
  /** The limit's own identifier. */
  limit: string
  sort: Limit['sort']
  low: string
  high: string
  unit: string
  source: string
  standing: Standing
  excess: string
  side: '' | 'low' | 'high'
  probability: string
  rule: string
  settle: string[]
  draw: { low: number | null; high: number | null }
}

export interface BudgetLine {
  source: string
  words: string
  u: string
  share: string
}

export interface SheetFigure {
  code: string
  words: string
  definition: string
  value: string | null
  unit: string
  missing: string[]
  /** The readings it is made of, by their codes. */
  from: string[]
  u: string | null
  U: string | null
  k: string
  dof: string
  budget: BudgetLine[]
  unknown: string[]
  guide: string
  /** "corrected to 20 °C" where readings were corrected for temperature, else "". */
  corrected: string
  /** Gauges that were past their date when they gave a reading of it, in words. */
  overdue: string[]
  now: Judged[]
  /** As judged when it was measured; null when that is what counts now. */
  then: Judged[] | null
  draw: { value: number; U: number | null } | null
}

export interface SheetPlace {
  place: string
  name: string
  bank: string
  done: boolean
  missing: string[]
  readings: Record<string, Taken>
  figures: SheetFigure[]
}

export interface SheetAcross {
  code: string
  words: string
  definition: string
  value: string | null
  unit: string
  places: string[]
  words_said: string
}

export interface Sheet {
  procedure: string
  edition: number
  name: string
  part: string
  state: string
  state_words: string
  unit: string
  drawing: string
  cautions: string[]
  walk: 'place' | 'reading'
  axes: Axis[]
  readings_asked: Asked[]
  sizes: Record<string, { values: string[]; unit: string; source: string }>
  limits_now: { figure: string; sort: Limit['sort']; low: string; high: string; unit: string; source: string; where: string[] }[]
  places: SheetPlace[]
  across: SheetAcross[]
  overdue: { gauge: string; due: string; count: number }[]
  gauges: { name: string; id: string; resolution: string; mpe: string; unit: string; due: string }[]
  rule: string
  rule_words: string
}

/** One standing reading of a job, its corrections taken in; `exhibit` is its number in the timeline, "" while it has none. */
export interface ReadingIn {
  id: string
  exhibit: string
  place: string
  point: string
  body: Record<string, unknown>
  claimed: string
}

/** How much a figure changed between two visits of the same engine. */
export interface Wear {
  place: string
  figure: string
  words: string
  change: string
  unit: string
  /** The change per `per_words` ("10 000 km"), "" when the distances are not known. */
  per: string
  per_words: string
}

/** The body of `measured`, version 2; of version 1 the fields it has. */
export interface MeasuredBody {
  procedure?: string
  edition?: number
  reading?: string
  state?: string
  quantity: string
  value: string
  unit: string
  gauge?: string
  gauge_id?: string
  part_temperature?: string
  gauge_temperature?: string
  material?: string
  basis?: string[]
  remark?: string
}
