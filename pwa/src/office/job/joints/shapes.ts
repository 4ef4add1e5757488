// What the read API answers about a job's joints: each run with the sheet it was begun with, names and exhibits beside it.

import type { Location } from '../../frame/shapes.ts'
import type { PreloadSaid } from '../../../trade/tightening/preload_estimate.ts'
import type { RunState } from '../../../trade/tightening/run.ts'
import type { TighteningSheet } from '../../../trade/tightening/sheets.ts'

export interface JobRun extends Omit<RunState, 'people'> {
  joint: string
  joint_name: string
  /** new, used or unknown; "" while the beginning has not arrived. */
  bolts: string
  use: number
  remark: string
  /** As it was described when the run began; null when nobody described it. */
  sheet: TighteningSheet | null
  /** Whether the sheet still reads so. */
  sheet_newest: boolean
  people: { id: string; name: string }[]
  /** The estimate for its sheet; null without one. */
  preload: PreloadSaid | null
  /** Entry -> its number in the record. */
  exhibits: Record<string, string>
}

export interface JobRuns {
  runs: JobRun[]
}

/** The name of somebody who had a hand in a run. */
export function nameIn(run: JobRun, person: string): string {
  return run.people.find(({ id }) => id === person)?.name ?? person
}

/** Where a record about a run belongs: a fastener of its joint, the first when it is about the whole. */
export function placeOf(run: JobRun, label = ''): Location | null {
  const fastener = label || run.stages[0]?.order[0]
  return fastener ? { place: `${run.joint}/${fastener}`, point: '' } : null
}
