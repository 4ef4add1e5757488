// A job's facts as they stand now, and the number proposed for a new job. The twin of trade/record/jobs.py.

import { fold, type Folded } from '../ground/corrections.ts'
import { KINDS } from './kinds.ts'

export interface JobFacts {
  number: string
  vehicle: string
  registration: string
  engine_type: string
  engine_number: string
  distance: string
  distance_unit: string
  complaint: string
  received_as: string
  earlier_job: string
  stage: string | null
}

/** The kinds that say what a job is and how far it has got. */
export const DECIDING = ['job_opened', 'job_amended', 'stage_reached']
const FACTS = Object.keys(KINDS['job_opened']!.fields)
const FIRST_NUMBER = 1001

/** The next number after all known ones; with the letter of the phone, so that two phones without signal differ. */
export function proposeNumber(known: Iterable<string>, letter = ''): string {
  let highest = FIRST_NUMBER - 1
  let counted = false
  for (const number of known) {
    const digits = /^[0-9]{1,9}(?![0-9])/.exec(number.trim())
    if (!digits) continue
    highest = counted ? Math.max(highest, Number(digits[0])) : Number(digits[0])
    counted = true
  }
  return `${highest + 1}${letter}`
}

/** The facts of one job from its entries in the order of the log, null when it was never opened. */
export function jobFacts(entries: Iterable<Folded>): JobFacts | null {
  let facts: Record<string, unknown> | null = null
  let stage: unknown = null
  for (const { entry, body, withdrawnBy } of fold(entries)) {
    if (withdrawnBy) continue
    if (entry.kind === 'job_opened' && facts === null) {
      facts = Object.fromEntries(FACTS.map((name) => [name, body[name]]))
    } else if (entry.kind === 'job_amended' && facts !== null) {
      for (const [name, value] of Object.entries(body['changes'] as object)) {
        if (FACTS.includes(name)) facts[name] = value
      }
    } else if (entry.kind === 'stage_reached') stage = body['stage']
  }
  return facts && ({ ...facts, stage } as unknown as JobFacts)
}
