// What is known of a sound besides itself: its transcripts, what people confirmed, and the records made from it.
import { RECORDS } from '../trade/spoken_notes.ts'
import type { Entry } from '../trade/kinds.ts'
import { withDb } from './db.ts'
import type { EntryRow } from './types.ts'

/** The sound with this id, what speaks of it, the records that name it and their answers, in the order of the log. */
export async function entriesOfSound(sound: string): Promise<Entry[]> {
  return withDb(async (db) => {
    const row = await db.get('entries', sound)
    if (!row) return []
    const about = (id: string) => db.getAllFromIndex('entries', 'about', id)
    const said = (await about(sound)).filter((one) => one.job === row.job)
    const made: EntryRow[] = []
    for (const kind of RECORDS) {
      const rows = await db.getAllFromIndex('entries', 'job_kind', IDBKeyRange.only([row.job, kind]))
      made.push(...rows.filter((one) => one.entry.body.spoken === sound))
    }
    const answers = (await Promise.all([...said, ...made].map((one) => about(one.id)))).flat()
    const all = new Map([row, ...said, ...made, ...answers].map((one) => [one.id, one]))
    return [...all.values()].sort((a, b) => a.at - b.at).map((one) => one.entry as unknown as Entry)
  })
}
