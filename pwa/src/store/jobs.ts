// The facts of a job, recomputed from its records whenever a deciding record arrives, in whatever order they come.
import { signal } from '@preact/signals'
import type { IDBPObjectStore, StoreNames } from 'idb'
import { changed, announceChange } from './changes.ts'
import { withDb, type Schema } from './db.ts'
import type { EngineType, EntryRow, Job } from './types.ts'
import { WAITING_AT } from './types.ts'

type Opened<Name extends StoreNames<Schema>> = IDBPObjectStore<Schema, StoreNames<Schema>[], Name, 'readwrite'>

/** What deriveJob needs of an open transaction. */
export interface JobStores {
  entries: Opened<'entries'>
  jobs: Opened<'jobs'>
}

const FACTS = ['number', 'vehicle', 'registration', 'engine_type', 'engine_number', 'distance', 'distance_unit', 'complaint', 'received_as', 'earlier_job'] as const
const DECIDING = ['job_opened', 'job_amended', 'stage_reached']

export const jobs = signal<Job[]>([])
export const engineTypes = signal<Map<string, EngineType>>(new Map())

export const decidesJobFacts = (kind: string) => DECIDING.includes(kind)

/** Recomputes the job's row inside a transaction that has just put one of its deciding records. */
export async function deriveJob({ entries, jobs }: JobStores, id: string): Promise<void> {
  const rows: EntryRow[] = []
  for (const kind of DECIDING) rows.push(...(await entries.index('job_kind').getAll(IDBKeyRange.only([id, kind]))))
  const opening = rows.find((row) => row.kind === 'job_opened')
  if (!opening) return
  const before = await jobs.get(id)
  const job: Job = {
    ...(Object.fromEntries(FACTS.map((name) => [name, String(opening.entry.body[name] ?? '')])) as Record<(typeof FACTS)[number], string>),
    id,
    stage: null,
    opened: opening.entry.claimed,
    at: opening.at,
    // Who opens a job on this phone works on it here: its whole record is kept.
    chosen: before?.chosen ?? opening.mine === 1,
    waiting: opening.position === null,
  }
  for (const row of rows.sort((a, b) => a.at - b.at)) {
    if (row.kind === 'stage_reached') job.stage = String(row.entry.body.stage)
    if (row.kind === 'job_amended')
      for (const [name, text] of Object.entries((row.entry.body.changes ?? {}) as Record<string, unknown>))
        if ((FACTS as readonly string[]).includes(name)) job[name as (typeof FACTS)[number]] = String(text)
  }
  await jobs.put(job)
}

export async function jobFacts(id: string): Promise<Job | null> {
  return (await withDb((db) => db.get('jobs', id))) ?? null
}

/** Keeps a job's whole record on this phone, or no longer fetches what is new in it. Nothing already here is deleted. */
export async function chooseJob(id: string, chosen: boolean): Promise<void> {
  await withDb(async (db) => {
    const tx = db.transaction('jobs', 'readwrite')
    const job = await tx.store.get(id)
    if (job) await tx.store.put({ ...job, chosen })
    await tx.done
  })
  await announceChange()
}

let seen = -1

/** Brings the signals `jobs` and `engineTypes` up to what the store holds. */
export async function refreshJobs(): Promise<void> {
  seen = changed.peek()
  const [rows, described] = await withDb((db) =>
    Promise.all([
      db.getAll('jobs'),
      db.getAllFromIndex('entries', 'kind_at', IDBKeyRange.bound(['engine_type_described', 0], ['engine_type_described', WAITING_AT * 2])),
    ]),
  )
  jobs.value = rows.sort((a, b) => b.at - a.at)
  const types = new Map<string, EngineType>()
  for (const row of described) {
    const type = row.entry.body.engine_type as EngineType
    types.set(type.id, type)
  }
  engineTypes.value = types
}

/** Follows every write from now on. */
export function followJobs(): () => void {
  return changed.subscribe((n) => {
    if (n !== seen) void refreshJobs()
  })
}

interface Transaction {
  objectStore(name: 'entries' | 'jobs'): unknown
}

/** The two stores of any transaction that spans both. */
export function jobStores(tx: Transaction): JobStores {
  return { entries: tx.objectStore('entries') as JobStores['entries'], jobs: tx.objectStore('jobs') as JobStores['jobs'] }
}
