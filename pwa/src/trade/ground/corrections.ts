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
  const at = new Map(standings.map((standing, index) => [standing.entry.id, index]))
  const target = (index: number) => {
    const aim = at.get(standings[index]!.entry.body['entry'] as string) ?? index
    return aim < index ? standings[aim]! : null
  }
  // From the last to the first, so that whether a withdrawal still holds is known before it takes effect.
  for (let index = standings.length - 1; index >= 0; index -= 1) {
    const standing = standings[index]!
    if (standing.entry.kind !== 'entry_withdrawn' || standing.withdrawnBy) continue
    const held = target(index)
    if (held && !held.withdrawnBy) held.withdrawnBy = standing.entry
  }
  standings.forEach((standing, index) => {
    const held = standing.entry.kind === 'entry_corrected' ? target(index) : null
    if (!held) return
    held.correctedBy.push(standing.entry)
    if (!standing.withdrawnBy && held.entry.kind !== 'entry_corrected' && held.entry.kind !== 'entry_withdrawn') {
      Object.assign(held.body, standing.entry.body['changes'])
      held.location = (standing.entry.body['location'] as Location | null) ?? held.location
    }
  })
  return standings
}
