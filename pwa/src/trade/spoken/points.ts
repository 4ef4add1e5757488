// A point that was said on a screen that shows one: "bottom" where "top, thrust" is lit, "wet" where "dry" is. The twin of
// trade/spoken/points.py.

import type { Screen } from './types.ts'
import { OPPOSITES, PROCEDURES, TABLE } from './words.ts'

type Procedure = (typeof PROCEDURES)[string]

/**
 * The point as the screen has it. A reading beside the grid by its words ("recess on the left"); of a point that was said in
 * part the rest as it is lit: "bottom" on a screen that shows "top, thrust" is "bottom, thrust".
 */
export function onScreen(point: string, screen: Screen): string {
  const procedure = Object.hasOwn(PROCEDURES, screen.procedure) ? PROCEDURES[screen.procedure]! : null
  const named = procedure && readingNamed(procedure, point)
  if (named) return named
  const [spoken, shown] = [point.split(', '), (screen.point || lit(procedure, screen.reading)).split(', ')]
  const [groups, places] = [spoken.map(groupOf), shown.map(groupOf)]
  const known = !places.includes(-1) && new Set(places).size === shown.length
  const within = groups.every((group) => places.includes(group)) && new Set(groups).size < places.length
  if (!known || !within) return point
  return shown.map((code, i) => (groups.includes(places[i]!) ? spoken[groups.indexOf(places[i]!)]! : code)).join(', ')
}

function readingNamed(procedure: Procedure, point: string): string | undefined {
  const readings = TABLE.readings as Record<string, Record<string, string[]>>
  const known = Object.hasOwn(readings, procedure.code) ? readings[procedure.code]! : {}
  const code = Object.keys(known).find((candidate) => known[candidate]!.includes(point))
  return code && procedure.readings.find((reading) => reading.code === code)?.words
}

/** Which group of opposites a piece is of, -1 for none. */
function groupOf(piece: string): number {
  return OPPOSITES.findIndex((group) => group.includes(piece))
}

/** The words of a reading of the grid: "top, thrust" of "top/thrust"; "" of another. */
function lit(procedure: Procedure | null, reading: string): string {
  const codes = reading.split('/')
  if (!procedure || codes.length !== procedure.grid.length) return ''
  const words = procedure.grid.map((axis, i) => axis.values.find((value) => value.code === codes[i])?.words ?? '')
  return words.every(Boolean) ? words.join(', ') : ''
}
