// The makers of records without files: each takes what was typed, as it was typed.
import { uuid7 } from '../trade/uuid7.ts'
import { basisFor } from '../trade/known.ts'
import { jobFacts, known, type Location, type Row } from '../store/index.ts'
import { capture, type Saved } from './entry.ts'
import { locationOf, type Where } from './where.ts'

export interface NewJob {
  number: string
  vehicle: string
  registration: string
  engine_type: string
  engine_number: string
  distance: string
  distance_unit: '' | 'km' | 'mi' | 'h'
  complaint: string
  received_as: string
  earlier_job: string
}

/** One reading as the screen knows it; what it is judged by is added here. */
export interface Measured {
  /** '' for a single reading outside any procedure; then edition is 0 and reading ''. */
  procedure: string
  edition: number
  reading: string
  state: string
  quantity: string
  value: string
  unit: string
  gauge: string
  gauge_id: string
  part_temperature: string
  gauge_temperature: string
  material: string
  remark: string
}

export interface Found {
  observation: string
  condition: string[]
  opinion: string
}

export async function openJob(facts: NewJob): Promise<Saved & { job: string }> {
  const job = uuid7()
  return { ...(await capture({ kind: 'job_opened', job, body: { ...facts } })), job }
}

export const amendJob = (job: string, changes: Partial<NewJob>, reason: string) =>
  capture({ kind: 'job_amended', job, body: { changes, reason } })

export const reachStage = (job: string, stage: string) => capture({ kind: 'stage_reached', job, body: { stage } })

export const tick = (job: string, ticked: { stage: string; item: string; ticked: boolean; note: string }, at?: Location) =>
  capture({ kind: 'checklist_ticked', job, location: at ?? null, body: { ...ticked } })

/** One record of the job at a place. */
export const there = (kind: string, at: Where, body: object) => capture({ kind, job: at.job, location: locationOf(at), body: { ...body } })

export const note = (at: Where, text: string) => there('note_made', at, { text })

/** Keeps one reading with the workshop's statements it is judged by, as this phone knows them at this moment. */
export async function measure(at: Where, measured: Measured): Promise<Saved> {
  const type = (await jobFacts(at.job))?.engine_type ?? ''
  const basis = basisFor(known.value, type, measured.procedure, at.place, measured.gauge_id)
  return there('measured', at, { ...measured, basis })
}
export const find = (at: Where, found: Found) => there('finding_made', at, found)

/** A correction stands beside the record it corrects; both stay readable. `location` null leaves the place as it was. */
export const correct = (row: Pick<Row, 'id' | 'hash' | 'job'>, to: { reason: string; changes: Record<string, unknown>; location: Location | null }) =>
  capture({ kind: 'entry_corrected', job: row.job || null, body: { entry: row.id, entry_hash: row.hash, ...to } })

export const withdraw = (row: Pick<Row, 'id' | 'hash' | 'job'>, reason: string) =>
  capture({ kind: 'entry_withdrawn', job: row.job || null, body: { entry: row.id, entry_hash: row.hash, reason } })
