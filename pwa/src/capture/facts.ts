// The makers of records without files: each takes what was typed, as it was typed.
import { uuid7 } from '../trade/ground/uuid7.ts'
import { KINDS, TYPED, type Spoken } from '../trade/record/kinds.ts'
import { basisFor } from '../trade/measuring/known.ts'
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

export interface NewFinding {
  observation: string
  condition: string[]
  opinion: string
  /** What is to be done, a code of finding_made; '' when not given. */
  disposition?: string
}

const HEARD_MOST = KINDS['measured']!.fields['heard']!.most!
const HEARD_BY_MOST = KINDS['measured']!.fields['heard_by']!.most!

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

/** Saves one reading with the workshop's statements it is judged by, as this phone knows them at this moment. */
export async function measure(at: Where, measured: Measured, spoken: Spoken = TYPED): Promise<Saved> {
  const type = (await jobFacts(at.job))?.engine_type ?? ''
  const basis = basisFor(known.value, type, measured.procedure, at.place, measured.gauge_id)
  return there('measured', at, { ...measured, basis, ...asKept(spoken) })
}
export const find = (at: Where, finding: NewFinding, spoken: Spoken = TYPED) =>
  there('finding_made', at, { disposition: '', ...finding, ...asKept(spoken) })

/** What was heard, cut to what a record may hold: the recording itself has all of it. */
export function asKept({ spoken, heard, heard_by }: Spoken): Spoken {
  return { spoken, heard: [...heard].slice(0, HEARD_MOST).join(''), heard_by: [...heard_by].slice(0, HEARD_BY_MOST).join('') }
}

/** Somebody listened to a recording: this is what was said in it. It answers an open query of the office as well. */
export const confirmTranscript = (sound: Pick<Row, 'id' | 'hash' | 'job' | 'place' | 'point'>, text: string, remark = '') =>
  there('transcript_confirmed', sound, { entry: sound.id, entry_hash: sound.hash, text, remark })

/** A correction stands beside the record it corrects; both stay readable. `location` null leaves the place as it was. */
export const correct = (row: Pick<Row, 'id' | 'hash' | 'job'>, to: { reason: string; changes: Record<string, unknown>; location: Location | null }) =>
  capture({ kind: 'entry_corrected', job: row.job || null, body: { entry: row.id, entry_hash: row.hash, ...to } })

export const withdraw = (row: Pick<Row, 'id' | 'hash' | 'job'>, reason: string) =>
  capture({ kind: 'entry_withdrawn', job: row.job || null, body: { entry: row.id, entry_hash: row.hash, reason } })
