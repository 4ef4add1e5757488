// Sounds on this phone: what the office's machines heard, what somebody confirmed, what was recorded from each.
import { fold } from '../trade/ground/corrections.ts'
import type { Entry } from '../trade/ground/entry.ts'
import type { EngineType } from '../trade/engine/parts.ts'
import { RECORDS, ofStandings, type SpokenNote } from '../trade/spoken/notes.ts'
import { withDb, type Store } from './db.ts'
import { engineTypes, jobFacts } from './jobs.ts'
import type { EntryRow } from './types.ts'

/** What is known of a sound: its transcripts, its confirmations, its records. Queries are the office's. Null when it is not here. */
export async function spokenOf(sound: string): Promise<SpokenNote | null> {
  const rows = await withDb((db) => rowsOf(db, sound, RECORDS))
  if (rows.length === 0) return null
  const facts = await jobFacts(rows[0]!.job)
  const engine = (engineTypes.value.get(facts?.engine_type ?? '') ?? null) as EngineType | null
  return ofStandings(fold(rows.map((row) => row.entry as Entry)), sound, engine)
}

/** The sound, all that speaks of it or was recorded from it, and the answers to these, in the order of the log. */
async function rowsOf(db: Store, id: string, kinds: string[]): Promise<EntryRow[]> {
  const sound = await db.get('entries', id)
  if (!sound) return []
  const found = new Map<string, EntryRow>([[id, sound]])
  for (const kind of [...kinds, 'entry_corrected']) {
    for (const row of await db.getAllFromIndex('entries', 'job_kind', IDBKeyRange.only([sound.job, kind]))) {
      const { changes, spoken } = row.entry.body as { changes?: { spoken?: string }; spoken?: string }
      if (spoken === id) found.set(row.id, row)
      // A correction may say that a record was spoken in this sound, and no other.
      const meant = changes?.spoken === id ? await db.get('entries', row.about) : undefined
      if (meant) found.set(meant.id, meant)
    }
  }
  for (const one of found) {
    // What is added here is met later in this same walk: an answer may be answered in its turn.
    for (const row of await db.getAllFromIndex('entries', 'about', one[0])) found.set(row.id, row)
  }
  return [...found.values()].sort((a, b) => a.at - b.at)
}
