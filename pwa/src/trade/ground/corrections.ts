// What stands after corrections and withdrawals; nothing is overwritten. The twin of trade/ground/corrections.py.

import type { Entry, Location } from './entry.ts'

export type Folded = Pick<Entry, 'id' | 'kind' | 'body' | 'location'>

/** An entry as it stands now: `entry` as it was made, `body` and `location` after its corrections. */
export interface Standing<E extends Folded> {
  entry: E
  body: Record<string, unknown>
  location: Location | null
  correctedBy: E[]
  withdrawnBy: E | null
}

/**
 * Each entry, in the order given (the order of the log), with what corrects it and whether it is withdrawn.
 * A withdrawal can itself be withdrawn: then the entry stands again. A withdrawn correction changes nothing any more,
 * and stays in the list of what was said. Only what comes later can correct or withdraw.
 */
export function fold<E extends Folded>(entries: Iterable<E>): Standing<E>[] {
  const standings: Standing<E>[] = [...entries].map((entry) => ({
    entry,
    body: { ...entry.body },
    location: entry.location,
    correctedBy: [],
    withdrawnBy: null,
  }))
  const at = new Map(standings.map((one, index) => [one.entry.id, index]))
  const target = (index: number) => {
    const aim = at.get(standings[index]!.entry.body['entry'] as string) ?? index
    return aim < index ? standings[aim]! : null
  }
  // From the last to the first, so that whether a withdrawal still holds is known before it takes effect.
  for (let index = standings.length - 1; index >= 0; index -= 1) {
    const one = standings[index]!
    if (one.entry.kind !== 'entry_withdrawn' || one.withdrawnBy) continue
    const held = target(index)
    if (held && !held.withdrawnBy) held.withdrawnBy = one.entry
  }
  standings.forEach((one, index) => {
    const held = one.entry.kind === 'entry_corrected' ? target(index) : null
    if (!held) return
    held.correctedBy.push(one.entry)
    if (!one.withdrawnBy && held.entry.kind !== 'entry_corrected' && held.entry.kind !== 'entry_withdrawn') {
      Object.assign(held.body, one.entry.body['changes'])
      held.location = (one.entry.body['location'] as Location | null) ?? held.location
    }
  })
  return standings
}
