// The facts of a job, recomputed from its records whenever a deciding record arrives, in whatever order they come.
import { signal } from '@preact/signals'
import type { IDBPObjectStore, StoreNames } from 'idb'
import { changed, announceChange } from './changes.ts'
import { DECIDING, jobFacts as factsFrom } from '../trade/record/jobs.ts'
import { ABOUT } from '../trade/record/kinds.ts'
import { withDb, type Schema } from './db.ts'
import type { EngineType, EntryRow, Job } from './types.ts'
import { WAITING_AT } from './types.ts'

type Opened<Name extends StoreNames<Schema>> = IDBPObjectStore<Schema, StoreNames<Schema>[], Name, 'readwrite'>

/** What deriveJob needs of an open transaction. */
export interface JobStores {
  entries: Opened<'entries'>
  jobs: Opened<'jobs'>
}

// An answer can put right what was said of the job, or take it back.
const READ_FOR_A_JOB = [...DECIDING, ...ABOUT.record]

export const jobs = signal<Job[]>([])
export const engineTypes = signal<Map<string, EngineType>>(new Map())

export const decidesJobFacts = (kind: string) => READ_FOR_A_JOB.includes(kind)

/** Recomputes the job's row inside a transaction that has just put one of its deciding records. */
export async function deriveJob({ entries, jobs }: JobStores, id: string): Promise<void> {
  const rows: EntryRow[] = []
  for (const kind of READ_FOR_A_JOB) rows.push(...(await entries.index('job_kind').getAll(IDBKeyRange.only([id, kind]))))
  const opening = rows.find((row) => row.kind === 'job_opened')
  if (!opening) return
  const before = await jobs.get(id)
  const inOrder = rows.sort((a, b) => a.at - b.at).map((row) => row.entry)
  // An opening that was withdrawn is still all there is to call the job by.
  const facts = factsFrom(inOrder) ?? factsFrom([opening.entry])!
  const job: Job = {
    ...facts,
    id,
    opened: opening.entry.claimed,
    at: opening.at,
    // Who opens a job on this phone works on it here: its whole record is kept.
    chosen: before?.chosen ?? opening.mine === 1,
    waiting: opening.position === null,
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
