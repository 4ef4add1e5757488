// What the workshop has said of gauges, limits, sizes, procedures and rules, folded from its feed.
import { signal } from '@preact/signals'
import { known as fold, type Known } from '../trade/known.ts'
import { changed } from './changes.ts'
import { withDb } from './db.ts'
import { WAITING_AT } from './types.ts'

const KINDS = ['gauge_described', 'limit_set', 'size_set', 'procedure_described', 'measuring_rules_set']

/** What a reading taken now is judged by. Before the store is open: what comes with the program. */
export const known = signal<Known>(fold([]))

let folded = ''

/** Brings `known` up to what the store holds; costs little while nothing of it changed. */
export async function refreshKnown(): Promise<void> {
  const ranges = KINDS.map((kind) => IDBKeyRange.bound([kind, -1], [kind, WAITING_AT * 2]))
  const keys = await withDb((db) => Promise.all(ranges.map((range) => db.getAllKeysFromIndex('entries', 'kind_at', range))))
  const now = keys.flat().join()
  if (now === folded) return
  const rows = (await withDb((db) => Promise.all(ranges.map((range) => db.getAllFromIndex('entries', 'kind_at', range))))).flat()
  known.value = fold(rows.sort((a, b) => a.at - b.at).map(({ id, kind, entry }) => ({ id, kind, body: entry.body, claimed: entry.claimed })))
  folded = now
}

/** Follows every write from now on. */
export function followKnown(): () => void {
  return changed.subscribe(() => void refreshKnown().catch(() => undefined))
}
