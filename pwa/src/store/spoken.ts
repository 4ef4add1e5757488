// Recordings on this phone: what the server's recognisers heard, what somebody confirmed, what was recorded from each.
import { fold } from '../trade/ground/corrections.ts'
import type { Entry } from '../trade/ground/entry.ts'
import type { EngineType } from '../trade/engine/parts.ts'
import { RECORDS, ofStandings, type SpokenNote } from '../trade/spoken/notes.ts'
import { withDb, type Store } from './db.ts'
import { engineTypes, jobFacts } from './jobs.ts'
import type { EntryRow } from './types.ts'

/** What is known of a recording: its transcripts, its confirmations, its records. Queries are the office's. Null when it is not here. */
export async function spokenOf(sound: string): Promise<SpokenNote | null> {
  const rows = await withDb((db) => rowsOf(db, sound, RECORDS))
  if (rows.length === 0) return null
  const facts = await jobFacts(rows[0]!.job)
  const engine = (engineTypes.value.get(facts?.engine_type ?? '') ?? null) as EngineType | null
  return ofStandings(fold(rows.map((row) => row.entry as Entry)), sound, engine)
}

/** The recording, all that refers to it or was recorded from it, and the answers to these, in the order of the log. */
async function rowsOf(db: Store, id: string, kinds: string[]): Promise<EntryRow[]> {
  const sound = await db.get('entries', id)
  if (!sound) return []
  const rows = new Map<string, EntryRow>([[id, sound]])
  for (const kind of [...kinds, 'entry_corrected']) {
    for (const row of await db.getAllFromIndex('entries', 'job_kind', IDBKeyRange.only([sound.job, kind]))) {
      const { changes, spoken } = row.entry.body as { changes?: { spoken?: string }; spoken?: string }
      if (spoken === id) rows.set(row.id, row)
      // A correction may state that a record was spoken in this recording, and no other.
      const meant = changes?.spoken === id ? await db.get('entries', row.about) : undefined
      if (meant) rows.set(meant.id, meant)
    }
  }
  for (const [about] of rows) {
    // What is added here is met later in this same walk: an answer may be answered in its turn.
    for (const row of await db.getAllFromIndex('entries', 'about', about)) rows.set(row.id, row)
  }
  return [...rows.values()].sort((a, b) => a.at - b.at)
}
