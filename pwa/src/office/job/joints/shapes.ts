// What the read API answers about a job's joints: each run with the sheet it was begun with, names and exhibits beside it.

import type { Location } from '../../frame/shapes.ts'
import type { TighteningRun as JobRun } from '../../../wire/openapi.d.ts'

export type { JobTightening as JobRuns, TighteningRun as JobRun } from '../../../wire/openapi.d.ts'

/** The name of somebody who had a hand in a run. */
export function nameIn(run: JobRun, person: string): string {
  return run.people.find(({ id }) => id === person)?.name ?? person
}

/** Where a record about a run belongs: a fastener of its joint, the first when it is about the whole. */
export function placeOf(run: JobRun, label = ''): Location | null {
  const fastener = label || run.stages[0]?.order[0]
  return fastener ? { place: `${run.joint}/${fastener}`, point: '' } : null
}
