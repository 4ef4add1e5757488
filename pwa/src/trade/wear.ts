// Wear between two visits of the same engine. The twin of trade/wear.py.

import type { Sheet, Wear } from './sheet_types.ts'

/** Distances as typed in the jobs ("182 400 km"), "" when unknown. */
export function wear(_now: Sheet, _distanceNow: string, _then: Sheet, _distanceThen: string): Wear[] {
  return []
}
