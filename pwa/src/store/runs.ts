// The tightening runs of a job, each with its entries as they stand. trade/tightening/run works out what they come to.
import { fold } from '../trade/ground/corrections.ts'
import { ABOUT, kindsWith } from '../trade/record/kinds.ts'
import type { RunEntry } from '../trade/tightening/entries.ts'
import { withDb } from './db.ts'
import type { Body, EntryRow } from './types.ts'

const OF_RUNS = [...kindsWith('run'), ...ABOUT.record]

/** An entry of a run, with what is needed to withdraw it. */
export interface EntryOfRun extends RunEntry {
  hash: string
}

export interface JobRun {
  id: string
  /** How it began, also when that was withdrawn; null while it has not reached this phone. */
  begun: EntryOfRun | null
  /** All that names this run in the order of the log, what still waits last; withdrawn ones are marked. */
  entries: EntryOfRun[]
}

/** Every run of a job on this phone, the one begun last first. */
export async function runsOf(job: string): Promise<JobRun[]> {
  const rows = await withDb(async (db) => {
    const all: EntryRow[] = []
    for (const kind of OF_RUNS) all.push(...(await db.getAllFromIndex('entries', 'job_kind', IDBKeyRange.only([job, kind]))))
    return all.sort((a, b) => a.at - b.at)
  })
  const hashes = new Map(rows.map((row) => [row.id, row.hash]))
  const runs = new Map<string, JobRun>()
  for (const { entry, body, withdrawnBy } of fold(rows.map((row) => row.entry))) {
    const id = runIn(body)
    if (!id) continue
    const run = runs.get(id) ?? { id, begun: null, entries: [] }
    const { kind, author, claimed } = entry
    const ofRun = { id: entry.id, kind, body, author, claimed, withdrawn: withdrawnBy !== null, hash: hashes.get(entry.id)! }
    run.entries.push(ofRun)
    if (kind === 'tightening_begun' && (!run.begun || (run.begun.withdrawn && !ofRun.withdrawn))) run.begun = ofRun
    runs.set(id, run)
  }
  return [...runs.values()].reverse()
}

const runIn = (body: Body): string => (typeof body.run === 'string' ? body.run : '')
