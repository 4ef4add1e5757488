// The figures of a job as they stand: corrections applied, withdrawn ones left out.
import { fold } from '../trade/ground/corrections.ts'
import { ABOUT } from '../trade/record/kinds.ts'
import type { ReadingIn } from '../trade/sheets/types.ts'
import { withDb } from './db.ts'
import type { EntryRow } from './types.ts'

/** Every standing measurement of a job on this phone, in the order of the log; what still waits comes last. `exhibit` is "": the server gives it. */
export async function readingsOf(job: string): Promise<ReadingIn[]> {
  const rows = await withDb(async (db) => {
    const all: EntryRow[] = []
    for (const kind of ['measured', ...ABOUT.record]) all.push(...(await db.getAllFromIndex('entries', 'job_kind', IDBKeyRange.only([job, kind]))))
    return all.sort((a, b) => a.at - b.at)
  })
  return fold(rows.map((row) => row.entry))
    .filter(({ entry, withdrawnBy }) => entry.kind === 'measured' && !withdrawnBy)
    .map(({ entry, body, location }) => ({
      id: entry.id,
      exhibit: '',
      place: location?.place ?? '',
      point: location?.point ?? '',
      body,
      claimed: entry.claimed,
    }))
}
