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
import { useStored } from '../frame/useStored.ts'
import { say } from '../frame/say.ts'

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

// What was done by a sheet that is not known here: all of it is shown, as done outside any sheet.
const noSheet = (): TighteningSheet => ({
  id: '', engine_type: '', joint: '', name: say('tighten.unknown_sheet'), thread: { size: '', pitch: '', class: '' }, state: '',
  bolt: 'reusable', uses_most: 0, length_most: '', stages: [], friction: { k: '', thread: '', head: '' }, two_people: false, holds: [],
  source: '', withdrawn: false, note: '',
})

/** The runs of a job as they stand, the one begun last first; null before the store has answered. */
export function useRuns(job: Job, type: EngineType | null): Run[] | null {
  const runs = useStored<JobRun[] | null>(null, () => runsOf(job.id), [job.id])
  const missing = useHolds(job, type)
  const workshop = tightening.value
  const managers = useMemo(() => people.value.filter(({ role }) => role === 'manager').map(({ id }) => id), [people.value])
  return useMemo(() => runs?.map((run) => folded(run)) ?? null, [runs, workshop, managers, missing, type])

  function folded(run: JobRun): Run {
    const body = (run.begun?.body ?? {}) as { sheet?: string; basis?: string[]; joint?: string; bolts?: string }
    const joint = body.joint ?? ''
    const engine = type as unknown as Described | null
    const described = run.begun && sheetOf(workshop, { sheet: body.sheet ?? '', basis: body.basis ?? [] }, run.begun.claimed)
    const sheet = described?.data ?? noSheet()
    const state = fold(sheet, run.entries, toolsOf(workshop), { managers, holds: missing(sheet) })
    const fasteners = engine?.joints.find(({ code }) => code === joint)?.fasteners ?? inARow(sheet)
    return { ...run, joint, name: jointName(engine, joint), fasteners, bolts: body.bolts ?? '', sheet, state }
  }
}

/** Where the places are not known, the fasteners still have their numbers. */
function inARow(sheet: TighteningSheet): Fastener[] {
  const labels = [...(sheet.stages[0]?.order ?? [])].sort((a, b) => Number(a) - Number(b))
  return labels.map((label, index) => ({ label, x_mm: 60 * index, y_mm: 0 }))
}

/** What of a sheet's conditions is not met on this job: sentences; none before the store has answered. */
export function useHolds(job: Job, type: EngineType | null): (sheet: TighteningSheet) => string[] {
  const readings = useStored<ReadingIn[] | null>(null, () => readingsOf(job.id), [job.id])
  const ticks = useStored<Tick[] | null>(null, () => checklist(job.id), [job.id])
  const workshop = known.value
  return useMemo(() => {
    if (!readings || !ticks) return (): string[] => []
    const done = ticks.filter(({ ticked }) => ticked).map(({ stage, item }) => `${stage}/${item}`)
    const made = new Map<string, ReturnType<typeof measuredSheet>[]>()
    const measured = (procedure: string) => {
      const sheets = made.get(procedure) ?? statesOf(readings, procedure).map((state) => measuredSheet(type as never, readings, workshop, procedure, state))
      made.set(procedure, sheets)
      return sheets
    }
    return (sheet: TighteningSheet) => {
      const procedures = [...new Set(sheet.holds.flatMap((hold) => (hold.sort === 'measured' ? hold.procedure : [])))]
      return openHolds(sheet, procedures.flatMap(measured), done)
    }
  }, [readings, ticks, workshop, type])
}

function statesOf(readings: readonly ReadingIn[], procedure: string): string[] {
  return [...new Set(readings.filter(({ body }) => body.procedure === procedure).map(({ body }) => String(body.state ?? 'as_found')))]
}
