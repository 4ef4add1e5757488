// Measurement sheets: what a job's readings amount to, by what the workshop says. The twin of trade/sheets.py.

import type { Known } from './known.ts'
import type { EngineType } from './parts.ts'
import type { ReadingIn, Sheet, State } from './sheet_types.ts'

/** One sheet for each procedure and state that has readings, in the order of the procedures. */
export function sheets(_engine: EngineType | null, _readings: ReadingIn[], _known: Known): Sheet[] {
  return []
}

/** The sheet of one procedure in one state alone, which costs less; empty of readings where there are none. */
export function sheet(
  engine: EngineType | null,
  _readings: ReadingIn[],
  known: Known,
  procedure: string,
  state: string,
): Sheet {
  return blank(engine, procedure, state, known)
}

/** The sheet before anything is read: places, what is asked, the limits and sizes. */
export function blank(_engine: EngineType | null, procedure: string, state: string, _known: Known): Sheet {
  return {
    procedure, edition: 0, name: procedure, part: '', state: state as State, state_words: '', unit: '', drawing: 'list', cautions: [],
    walk: 'place', axes: [], readings_asked: [], sizes: {}, limits_now: [], places: [], across: [], overdue: [],
    gauges: [], rule: '', rule_words: '',
  }
}
