// What the read API answers about measurements, beside the sheets whose shapes are the trade's own.

import type { Sheet, Wear } from '../../../trade/sheets/types.ts'

export interface Proposal {
  sort: string
  title: string
  lines: string[]
  inputs: { name: string; value: string; source: string }[]
  formula: string
  cautions: string[]
  forced_by: { place: string; reading: string; value: string } | null
}

/** An earlier visit of the same engine against this one. */
export interface EarlierVisit {
  job: string
  number: string
  opened: string | null
  distance: string
  procedure: string
  state: string
  changes: Wear[]
}

export interface JobFigures {
  sheets: Sheet[]
  proposals: Proposal[]
  wear: EarlierVisit[]
  rules: Record<string, string>
  distance: string
}
