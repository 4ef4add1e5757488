// What the read API answers about a job's joints: each run with the sheet it was begun with, names and exhibits beside it.

import type { RunState } from '../../trade/tightening.ts'
import type { TighteningSheet } from '../../trade/tightening_sheets.ts'

export interface JobRun {
  state: RunState
  joint: string
  joint_name: string
  /** As it was described when the run began; null when nobody described it. */
  sheet: TighteningSheet | null
  /** What was said of the bolts at the beginning. */
  bolts: string
  holds: string[]
}

export interface JobRuns {
  runs: JobRun[]
  /** Identifiers of people, and of entries, as they are called. */
  names: Record<string, string>
  exhibits: Record<string, string>
  tools: { id: string; name: string; serial: string; due: string }[]
}
