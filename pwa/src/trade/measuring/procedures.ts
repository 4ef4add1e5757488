// Measuring procedures as the server has checked them, and what is asked of them. What a procedure holds and what its
// lines mean is said in the server's measuring/procedures.py.

import table from '../../../../server/witnessmark/trade/data/procedures.json'
import { say } from '../ground/say.ts'

export interface ProcedureAxis {
  axis: string
  words: string
  values: { code: string; words: string }[]
}

export interface ProcedureReading {
  code: string
  words: string
  quantity: string
  optional: boolean
  borrow: { procedure: string; figure: string; part: string } | null
}

export interface ProcedureSize {
  code: string
  words: string
  /** "" for a text, such as a material. */
  quantity: string
  many: boolean
}

export interface FigureLine {
  code: string
  words: string
  kind: string
  do: string
  of: string[]
  along: string
  by: string
  definition: string
  guide: { words: string; of: string; by: string } | null
}

export interface AcrossLine {
  code: string
  words: string
  do: string
  of: string
  share: string
  definition: string
}

export interface Procedure {
  code: string
  edition: number
  name: string
  part: string
  quantity: string
  about: string
  cautions: string[]
  grid: ProcedureAxis[]
  readings: ProcedureReading[]
  optional: string[]
  sizes: ProcedureSize[]
  figures: FigureLine[]
  across: AcrossLine[]
  walk: 'place' | 'reading'
  drawing: string
}

export const BUILT_IN: Record<string, Procedure> = Object.fromEntries(
  (table.procedures as Procedure[]).map((procedure) => [procedure.code, procedure]),
)
export const WALKS = { place: say('measuring.walk_place'), reading: say('measuring.walk_reading') }
export const DRAWINGS = ['bore', 'journal', 'housing', 'face', 'lobe', 'pin', 'list']

/** The readings of the grid, the first axis changing slowest: "top/thrust", "top/axial", …; none without a grid. */
export function gridCodes(procedure: Procedure): string[] {
  if (!procedure.grid.length) return []
  return procedure.grid
    .map((axis) => axis.values.map((value) => value.code))
    .reduce((heads, codes) => heads.flatMap((head) => codes.map((code) => `${head}/${code}`)))
}

/** All readings in the order in which they are asked for: the grid, then those beside it. */
export function readingCodes(procedure: Procedure): string[] {
  return [...gridCodes(procedure), ...procedure.readings.map((reading) => reading.code)]
}

/** A reading in words, as it stands in an entry's point: "top, thrust". An unknown code is given back as it is. */
export function pointWords(procedure: Procedure, reading: string): string {
  const beside = procedure.readings.find((line) => line.code === reading)
  if (beside) return beside.words
  if (!gridCodes(procedure).includes(reading)) return reading
  const codes = reading.split('/')
  return procedure.grid.map((axis, i) => axis.values.find((value) => value.code === codes[i])!.words).join(', ')
}

/** The readings without which a place is not done. */
export function required(procedure: Procedure): string[] {
  const beside = procedure.readings.filter((reading) => !reading.optional).map((reading) => reading.code)
  return [...gridCodes(procedure).filter((code) => !procedure.optional.includes(code)), ...beside]
}

/** The quantity of a reading: its own beside the grid, the procedure's in the grid. */
export function quantityOf(procedure: Procedure, reading: string): string {
  return procedure.readings.find((line) => line.code === reading)?.quantity ?? procedure.quantity
}

/**
 * Whether a reading is taken on the part whose material the engine type states: in a procedure with a grid all of them,
 * else the first alone, for a second one is mostly of the part that runs in it, of another metal.
 */
export function ofThePart(procedure: Procedure, reading: string): boolean {
  return procedure.grid.length > 0 || procedure.readings[0]!.code === reading
}

/** The procedures that measure a part, in the order given. */
export function ofPart(part: string, procedures: Procedure[]): Procedure[] {
  return procedures.filter((procedure) => procedure.part === part)
}
