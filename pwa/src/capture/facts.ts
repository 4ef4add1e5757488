// The makers of records without files: each takes what was typed, as it was typed.
import { uuid7 } from '../trade/uuid7.ts'
import type { Location, Row } from '../store/index.ts'
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

export interface Measured {
  quantity: string
  value: string
  unit: string
  gauge: string
  remark: string
}

export interface Tightened {
  fastener: string
  value: string
  unit: string
  method: string
  tool: string
  state: string
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

const there = (kind: string, at: Where, body: object) => capture({ kind, job: at.job, location: locationOf(at), body: { ...body } })

export const note = (at: Where, text: string) => there('note_made', at, { text })
export const measure = (at: Where, measured: Measured) => there('measured', at, measured)
export const tighten = (at: Where, tightened: Tightened) => there('fastener_tightened', at, tightened)
export const find = (at: Where, found: Found) => there('finding_made', at, found)

/** A correction stands beside the record it corrects; both stay readable. `location` null leaves the place as it was. */
export const correct = (row: Pick<Row, 'id' | 'hash' | 'job'>, to: { reason: string; changes: Record<string, unknown>; location: Location | null }) =>
  capture({ kind: 'entry_corrected', job: row.job || null, body: { entry: row.id, entry_hash: row.hash, ...to } })

export const withdraw = (row: Pick<Row, 'id' | 'hash' | 'job'>, reason: string) =>
  capture({ kind: 'entry_withdrawn', job: row.job || null, body: { entry: row.id, entry_hash: row.hash, reason } })
