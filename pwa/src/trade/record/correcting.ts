// Whether a correction fits the record it corrects.

import { Refusal } from '../ground/errors.ts'
import { fieldCheck, KINDS } from './kinds.ts'
import { say } from '../ground/say.ts'
import type { Entry, Location } from '../ground/entry.ts'

interface Correction {
  changes: Record<string, unknown>
  location: Location | null
}

/** Returns when a correction fits the entry it corrects; else throws Refusal. */
export function checkCorrection(correction: Correction, target: Pick<Entry, 'kind' | 'version'>): void {
  const kind = KINDS[target.kind]!
  const { changes, location } = correction
  const fields = kind.versions[target.version]!.body
  if (Object.keys(changes).length === 0 && location === null) {
    throw new Refusal('bad_value', 'body.changes', say('record.correction.nothing'))
  }
  if (location !== null && !kind.mayHaveLocation) {
    throw new Refusal('location', 'body.location', say('record.correction.no_place', { kind: kind.words }))
  }
  for (const [name, value] of Object.entries(changes)) {
    const where = `body.changes.${name}`
    if (!Object.hasOwn(fields, name)) {
      const known = Object.keys(fields).join(', ')
      throw new Refusal('unknown_field', where, say('record.correction.no_field', { kind: kind.words, field: name, fields: known }))
    }
    const reason = fieldCheck(fields[name]!)(value)
    if (reason) throw new Refusal('bad_value', where, say('record.correction.wrong_value', { kind: kind.words, field: name, reason }))
  }
}
