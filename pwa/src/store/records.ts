// What the screens read: a job's records newest first, one record, tallies, the checklist.
import { withDb, type Store } from './db.ts'
import type { EntryRow, Row, Tick } from './types.ts'

export interface TimelineQuery {
  /** `at` of the last row of the page before. */
  before?: number
  limit?: number
  /** A place and everything below it: 'head/A' finds 'head/A/bolt/7'. */
  place?: string
  kinds?: string[]
  /** Every group must be met by one of its words: [['gudgeon pin', 'wrist pin'], ['scored']]. A plain text is split at its spaces. */
  words?: string | string[][]
}

const ALL = Number.MAX_VALUE

/** A page of a job's records, newest first; corrections and withdrawals hang on the record they answer as well. */
export async function timeline(job: string, query: TimelineQuery = {}): Promise<Row[]> {
  const { before = ALL, limit = 50, place = '', kinds, words = '' } = query
  const groups = typeof words === 'string' ? words.toLowerCase().split(/\s+/).filter(Boolean).map((word) => [word]) : words
  return withDb(async (db) => {
    const page: EntryRow[] = []
    const range = IDBKeyRange.bound([job, -1], [job, before], false, before !== ALL)
    let cursor = await db.transaction('entries').store.index('job_at').openCursor(range, 'prev')
    for (; cursor && page.length < limit; cursor = await cursor.continue()) {
      const row = cursor.value
      if (kinds && !kinds.includes(row.kind)) continue
      if (place && !within(row.entry.location?.place ?? '', place)) continue
      if (!groups.every((group) => group.some((word) => row.words.includes(word)))) continue
      page.push(row)
    }
    const refused = new Set((await db.getAll('shelf')).map((row) => row.id))
    return Promise.all(page.map((row) => withAnswers(db, row, refused)))
  })
}

export async function record(id: string): Promise<Row | null> {
  return withDb(async (db) => {
    const row = await db.get('entries', id)
    return row ? withAnswers(db, row, new Set((await db.getAll('shelf')).map((r) => r.id))) : null
  })
}

/** How many records a job has at each place, withdrawn ones included. */
export async function tallies(job: string): Promise<Record<string, number>> {
  return withDb(async (db) => {
    const counts: Record<string, number> = {}
    for (const row of await db.getAllFromIndex('entries', 'job_at', IDBKeyRange.bound([job, -1], [job, ALL]))) {
      const place = row.entry.location?.place
      if (place) counts[place] = (counts[place] ?? 0) + 1
    }
    return counts
  })
}

/** What is recorded where: 'photo_taken bore/3' for every kind at every place of a job, withdrawn records left out. */
export async function kindsByPlace(job: string): Promise<Set<string>> {
  return withDb(async (db) => {
    const rows = await db.getAllFromIndex('entries', 'job_at', IDBKeyRange.bound([job, -1], [job, ALL]))
    const withdrawn = new Set(rows.filter((row) => row.kind === 'entry_withdrawn').map((row) => row.about))
    return new Set(rows.filter((row) => row.entry.location && !withdrawn.has(row.id)).map((row) => `${row.kind} ${row.entry.location!.place}`))
  })
}

/** How many records and pictures of a job are on this phone. */
export async function countOf(job: string): Promise<{ records: number; pictures: number }> {
  return withDb(async (db) => {
    const [records, pictures] = await Promise.all([
      db.countFromIndex('entries', 'job_at', IDBKeyRange.bound([job, -1], [job, ALL])),
      db.countFromIndex('entries', 'job_kind', IDBKeyRange.only([job, 'photo_taken'])),
    ])
    return { records, pictures }
  })
}

/** The last word on every item of the checklist that was ever ticked or unticked. */
export async function checklist(job: string): Promise<Tick[]> {
  const rows = await withDb((db) => db.getAllFromIndex('entries', 'job_kind', IDBKeyRange.only([job, 'checklist_ticked'])))
  const last = new Map<string, Tick>()
  for (const { entry } of rows.sort((a, b) => a.at - b.at)) {
    const body = entry.body as { stage: string; item: string; ticked: boolean; note: string }
    last.set(`${body.stage}/${body.item}`, { ...body, by: entry.author, claimed: entry.claimed })
  }
  return [...last.values()]
}

export const within = (place: string, wanted: string) => place === wanted || place.startsWith(`${wanted}/`)

async function withAnswers(db: Store, row: EntryRow, refused: Set<string>): Promise<Row> {
  const answers = (await db.getAllFromIndex('entries', 'about', row.id)).sort((a, b) => a.at - b.at).map((a) => plain(a, refused))
  return {
    ...plain(row, refused),
    corrections: answers.filter((answer) => answer.kind === 'entry_corrected'),
    withdrawn: answers.find((answer) => answer.kind === 'entry_withdrawn') ?? null,
  }
}

function plain(row: EntryRow, refused: Set<string>): Row {
  const { id, hash, kind, job, entry, position, received, at } = row
  const state = refused.has(id) ? 'attention' : position === null ? 'waiting' : 'received'
  const { place = '', point = '' } = entry.location ?? {}
  return { id, hash, kind, job, place, point, entry, mine: row.mine === 1, state, position, received, at, corrections: [], withdrawn: null }
}
