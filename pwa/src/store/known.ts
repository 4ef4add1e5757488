// The workshop's gauges, limits, sheets, tools and own words, folded from its feed.
import { type Signal, signal } from '@preact/signals'
import { known as fold, type Known } from '../trade/measuring/known.ts'
import { KIND, ownWords as foldWords, type OwnWord } from '../trade/record/own_words.ts'
import type { KnownEntry } from '../trade/measuring/entries.ts'
import { knownTightening, type KnownTightening } from '../trade/tightening/known.ts'
import { changed } from './changes.ts'
import { withDb } from './db.ts'
import { WAITING_AT } from './types.ts'

const OF_MEASURING = ['gauge_described', 'limit_set', 'size_set', 'procedure_described', 'measuring_rules_set']
const OF_SPEECH = [KIND]
const OF_TIGHTENING = ['tightening_sheet_described', 'torque_tool_described']

/** What a reading taken now is judged by. Before the store is open: what comes with the program. */
export const known = signal<Known>(fold([]))
/** The tightening sheets and torque tools. */
export const tightening = signal<KnownTightening>(knownTightening([]))
/** Words that the workshop uses besides those of the trade. */
export const ownWords = signal<OwnWord[]>([])

/** Brings a signal up to what the store holds of these kinds; costs little while nothing of it changed. */
function keeping<F>(kinds: string[], target: Signal<F>, make: (entries: KnownEntry[]) => F): () => Promise<void> {
  let folded = ''
  return async () => {
    const ranges = kinds.map((kind) => IDBKeyRange.bound([kind, -1], [kind, WAITING_AT * 2]))
    const keys = await withDb((db) => Promise.all(ranges.map((range) => db.getAllKeysFromIndex('entries', 'kind_at', range))))
    const now = keys.flat().join()
    if (now === folded) return
    const rows = (await withDb((db) => Promise.all(ranges.map((range) => db.getAllFromIndex('entries', 'kind_at', range))))).flat()
    target.value = make(rows.sort((a, b) => a.at - b.at).map(({ id, kind, entry }) => ({ id, kind, body: entry.body, claimed: entry.claimed })))
    folded = now
  }
}

const refreshMeasuring = keeping(OF_MEASURING, known, fold)
const refreshTightening = keeping(OF_TIGHTENING, tightening, knownTightening)
const refreshWords = keeping(OF_SPEECH, ownWords, foldWords)

export async function refreshKnown(): Promise<void> {
  await Promise.all([refreshMeasuring(), refreshTightening(), refreshWords()])
}

/** Follows every write from now on. */
export function followKnown(): () => void {
  return changed.subscribe(() => void refreshKnown().catch(() => undefined))
}
