// A run as it was carried out, made ready for drawing and table. It judges nothing: the fold has done that.

import { withUnit } from '../../../trade/ground/units.ts'
import type { Mark } from '../../registers/tightening/JointPlan.tsx'
import type { Departure, DoneRow, StageState } from '../../../trade/tightening/run.ts'
import { SORTS } from '../../../trade/tightening/departures.ts'
import { say } from '../../frame/say.ts'

export interface Row extends DoneRow {
  /** Order number among the fasteners, those done again left out; 0 for one done again. */
  number: number
  departures: Departure[]
}

/** Deviations of what is done now: those before a restart of the stage were settled by it. */
const standing = (departures: Departure[]) => departures.filter(({ answered }) => answered?.how !== 'restart')

/** The fasteners of a stage as they were done, each with its deviations. */
export function rowsOf(stage: StageState, departures: Departure[]): Row[] {
  let number = 0
  return stage.done.map((row) => {
    if (!row.again) number += 1
    const own = standing(departures).filter((it) => it.stage === stage.code && it.label === row.label && it.sort !== 'skipped')
    return { ...row, number: row.again ? 0 : number, departures: own.filter(({ sort }) => (sort === 'repeated') === row.again || sort === 'over' || sort === 'under') }
  })
}

/** The mark at each fastener of a stage in the drawing. */
export function marksOf(stage: StageState, departures: Departure[]): Record<string, Mark> {
  const rows = rowsOf(stage, departures)
  return Object.fromEntries(
    stage.order.map((label, i) => {
      const own = rows.filter((row) => row.label === label)
      const number = own.find((row) => row.number)?.number
      const deviations = standing(departures).filter((it) => it.stage === stage.code && it.label === label)
      const open = deviations.some(({ answered }) => !answered)
      const specified = String(i + 1)
      const skipped = stage.skipped.includes(label)
      const done = number ? String(number) : skipped ? '–' : ''
      const words = [
        say('joints.specified_as', { number: specified }),
        // That it was skipped is said once: by its deviation where there is one.
        ...(number ? [say('joints.done_as', { number })] : deviations.some(({ sort }) => sort === 'skipped') ? [] : [say(skipped ? 'joints.skipped' : 'joints.not_done')]),
        ...deviations.map(({ sort, answered }) => (answered ? say('joints.answered', { deviation: SORTS[sort] }) : say('joints.unanswered', { deviation: SORTS[sort] }))),
      ]
      const mark: Mark = { asked: specified, done, apart: done !== '' && done !== specified, look: own.length ? 'done' : 'open', said: words.join(', ') }
      return [label, deviations.length ? { ...mark, ring: open ? 'open' : 'answered' } : mark]
    }),
  )
}

/** "31.5 N·m", "90°" */
export function valueWords({ value, unit }: DoneRow): string {
  if (!value) return say('joints.no_value')
  return withUnit(value, unit)
}

/** The one tool or person of all rows; null when they differ. */
export function same<Field extends 'tool' | 'by'>(rows: DoneRow[], field: Field): string | null {
  const all = [...new Set(rows.map((row) => row[field]))]
  return all.length === 1 ? all[0]! : null
}

/** The fasteners in the order done, without those done again. */
export function wayOf(stage: StageState): string[] {
  return stage.done.filter(({ again }) => !again).map(({ label }) => label)
}
