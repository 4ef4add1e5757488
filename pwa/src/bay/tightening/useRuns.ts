import { useMemo } from 'preact/hooks'
import { type EngineType, type Job, type JobRun, type Tick, checklist, known, people, readingsOf, runsOf, tightening } from '../../store/index.ts'
import type { EngineType as Described, Fastener } from '../../trade/engine/parts.ts'
import type { ReadingIn } from '../../trade/sheets/types.ts'
import { sheet as measuredSheet } from '../../trade/sheets/job_sheets.ts'
import { type RunState, fold } from '../../trade/tightening/run.ts'
import { openHolds } from '../../trade/tightening/holds.ts'
import { sheetOf, toolsOf } from '../../trade/tightening/known.ts'
import type { TighteningSheet } from '../../trade/tightening/sheets.ts'
import { jointName } from '../../trade/tightening/words.ts'
import { useAsked } from '../frame/useAsked.ts'

export interface Run extends JobRun {
  joint: string
  /** "Cylinder head, bank A" */
  name: string
  fasteners: Fastener[]
  bolts: string
  /** As it was when the run was begun; one without stages where none has reached this phone. */
  sheet: TighteningSheet
  state: RunState
}

// What was done by a sheet that nobody described: all of it is told, as done without being asked for.
const NO_SHEET: TighteningSheet = {
  id: '', engine_type: '', joint: '', name: 'A sheet that has not reached this phone', thread: { size: '', pitch: '', class: '' }, state: '',
  bolt: 'reusable', uses_most: 0, length_most: '', stages: [], friction: { k: '', thread: '', head: '' }, two_people: false, holds: [],
  source: '', withdrawn: false, note: '',
}

/** The runs of a job as they stand, the one begun last first; null before the store has answered. */
export function useRuns(job: Job, type: EngineType | null): Run[] | null {
  const runs = useAsked<JobRun[] | null>(null, () => runsOf(job.id), [job.id])
  const missing = useHolds(job, type)
  const says = tightening.value
  const managers = useMemo(() => people.value.filter((one) => one.role === 'manager').map((one) => one.id), [people.value])
  return useMemo(() => runs?.map((run) => told(run)) ?? null, [runs, says, managers, missing, type])

  function told(run: JobRun): Run {
    const body = (run.begun?.body ?? {}) as { sheet?: string; basis?: string[]; joint?: string; bolts?: string }
    const joint = body.joint ?? ''
    const engine = type as unknown as Described | null
    const said = run.begun && sheetOf(says, { sheet: body.sheet ?? '', basis: body.basis ?? [] }, run.begun.claimed)
    const sheet = said?.what ?? NO_SHEET
    const state = fold(sheet, run.entries, toolsOf(says), { managers, holds: missing(sheet) })
    const fasteners = engine?.joints.find((one) => one.code === joint)?.fasteners ?? inARow(sheet)
    return { ...run, joint, name: jointName(engine, joint), fasteners, bolts: body.bolts ?? '', sheet, state }
  }
}

/** Where nobody knows the places, the fasteners still have their numbers. */
function inARow(sheet: TighteningSheet): Fastener[] {
  const labels = [...(sheet.stages[0]?.order ?? [])].sort((a, b) => Number(a) - Number(b))
  return labels.map((label, index) => ({ label, x_mm: 60 * index, y_mm: 0 }))
}

/** What of a sheet's conditions is not met on this job: sentences; none before the store has answered. */
export function useHolds(job: Job, type: EngineType | null): (sheet: TighteningSheet) => string[] {
  const readings = useAsked<ReadingIn[] | null>(null, () => readingsOf(job.id), [job.id])
  const ticks = useAsked<Tick[] | null>(null, () => checklist(job.id), [job.id])
  const says = known.value
  return useMemo(() => {
    if (!readings || !ticks) return (): string[] => []
    const ticked = ticks.filter((one) => one.ticked).map((one) => `${one.stage}/${one.item}`)
    const made = new Map<string, ReturnType<typeof measuredSheet>[]>()
    const measured = (procedure: string) => {
      const found = made.get(procedure) ?? statesOf(readings, procedure).map((state) => measuredSheet(type as never, readings, says, procedure, state))
      made.set(procedure, found)
      return found
    }
    return (sheet: TighteningSheet) => {
      const asked = [...new Set(sheet.holds.flatMap((hold) => (hold.sort === 'measured' ? hold.procedure : [])))]
      return openHolds(sheet, asked.flatMap(measured), ticked)
    }
  }, [readings, ticks, says, type])
}

function statesOf(readings: readonly ReadingIn[], procedure: string): string[] {
  return [...new Set(readings.filter((one) => one.body.procedure === procedure).map((one) => String(one.body.state ?? 'as_found')))]
}
