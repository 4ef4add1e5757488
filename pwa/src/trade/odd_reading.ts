// A reading far from its neighbours: asks once, forbids nothing. The twin of trade/odd_reading.py.

import type { Sheet } from './sheet_types.ts'

/** The question to ask once about a reading that is about to be kept, "" when there is none. */
export function odd(_sheet: Sheet, _place: string, _reading: string, _amount: string, _unit: string): string {
  return ''
}
