// How a record reads now: its line after its corrections, with the line as it was made beside it when they differ.
import type { EngineType, Row } from '../../store/index.ts'
import { fold } from '../../trade/ground/corrections.ts'
import { line } from '../../trade/record/lines.ts'

export interface Reading {
  title: string
  text: string
  /** The line as it was made; null while nothing corrected it. */
  was: { title: string; text: string } | null
}

export function readAs(row: Row, type: EngineType | null): Reading {
  const made = line(row.entry, type as never)
  if (row.corrections.length === 0) return { ...made, was: null }
  const [now] = fold([row.entry, ...row.corrections.map((c) => c.entry)])
  const reads = line({ ...row.entry, body: now!.body, location: now!.location }, type as never)
  const same = reads.title === made.title && reads.text === made.text
  return { ...reads, was: same ? null : made }
}

/** The fields and the place of a record as they read now, with its corrections. */
export function standingOf(row: Row): Pick<Row['entry'], 'body' | 'location'> {
  const [now] = fold([row.entry, ...row.corrections.map((c) => c.entry)])
  return { body: now!.body, location: now!.location }
}
