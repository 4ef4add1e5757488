// A run as it was carried out, made ready for drawing and table. It judges nothing: the fold has said it all.

import { withUnit } from '../../../trade/ground/units.ts'
import type { Mark } from '../../registers/tightening/JointPlan.tsx'
import type { Departure, DoneRow, StageTold } from '../../../trade/tightening/run.ts'
import { SORTS } from '../../../trade/tightening/departures.ts'

export interface Row extends DoneRow {
  /** Order number among the fasteners, those done again left out; 0 for one done again. */
  number: number
  departures: Departure[]
}

/** Those about what stands done now: what a restart of the stage settled was undone with it. */
const still = (departures: Departure[]) => departures.filter(({ answered }) => answered?.how !== 'restart')

/** The fasteners of a stage as they were done, each with what is said of it. */
export function rowsOf(stage: StageTold, departures: Departure[]): Row[] {
  let number = 0
  const seen: Record<string, number> = {}
  return stage.done.map((row) => {
    if (!row.again) number += 1
    seen[row.label] = (seen[row.label] ?? 0) + 1
    const said = still(departures).filter((one) => one.stage === stage.code && one.label === row.label && one.sort !== 'skipped')
    return { ...row, number: row.again ? 0 : number, departures: said.filter((one) => (one.sort === 'repeated') === row.again || one.sort === 'over' || one.sort === 'under') }
  })
}

/** What stands at each fastener of a stage in the drawing. */
export function marksOf(stage: StageTold, departures: Departure[]): Record<string, Mark> {
  const rows = rowsOf(stage, departures)
  return Object.fromEntries(
    stage.order.map((label, i) => {
      const own = rows.filter((row) => row.label === label)
      const number = own.find((row) => row.number)?.number
      const said = still(departures).filter((one) => one.stage === stage.code && one.label === label)
      const open = said.some(({ answered }) => !answered)
      const asked = String(i + 1)
      const done = number ? String(number) : stage.skipped.includes(label) ? '–' : ''
      const words = [
        `asked as number ${asked}`,
        number ? `done as number ${number}` : stage.skipped.includes(label) ? 'left out' : 'not done yet',
        ...said.map(({ sort, answered }) => `${SORTS[sort]}, ${answered ? 'answered' : 'still to be answered'}`),
      ]
      const mark: Mark = { asked, done, apart: done !== '' && done !== asked, look: own.length ? 'done' : 'open', said: words.join(', ') }
      return [label, said.length ? { ...mark, ring: open ? 'open' : 'answered' } : mark]
    }),
  )
}

/** "31.5 N·m typed", "30 N·m as the tool told" */
export function valueWords({ value, unit }: DoneRow): string {
  if (!value) return 'no value'
  return withUnit(value, unit)
}

/** The one tool or person of all rows; null when they differ. */
export function same<Field extends 'tool' | 'by'>(rows: DoneRow[], field: Field): string | null {
  const all = [...new Set(rows.map((row) => row[field]))]
  return all.length === 1 ? all[0]! : null
}

/** The way that was gone, fastener by fastener. */
export function wayOf(stage: StageTold): string[] {
  return stage.done.filter(({ again }) => !again).map(({ label }) => label)
}
