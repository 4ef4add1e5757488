// The lines of a procedure in words a machinist reads: which operation, of what, along which axis.

import table from '../../../../../server/witnessmark/trade/data/operations.json'
import type { AcrossLine, FigureLine, Procedure } from '../../../trade/measuring/procedures.ts'
import { QUANTITIES } from '../../../trade/ground/units.ts'
import { say } from '../../frame/say.ts'

interface Operation {
  do: string
  words: string
  least: number
  /** null: any number of values. */
  most: number | null
  along: boolean
  by: boolean
}

interface AcrossOperation {
  do: string
  words: string
  share: boolean
}

export const FIGURE_OPERATIONS: Operation[] = table.figures
export const ACROSS_OPERATIONS: AcrossOperation[] = table.across

/** The operations whose words name an axis or a percentage, with their sentences. */
const ALONG: Record<string, 'procedures.largest_spread' | 'procedures.largest_drop' | 'procedures.middle_less_ends'> = {
  largest_spread: 'procedures.largest_spread',
  largest_drop: 'procedures.largest_drop',
  middle_less_ends: 'procedures.middle_less_ends',
}
const BELOW: Record<string, 'procedures.under_share' | 'procedures.neighbours_under'> = {
  under_share: 'procedures.under_share',
  neighbours_under: 'procedures.neighbours_under',
}

export function quantityWords(code: string): string {
  return QUANTITIES.find((quantity) => quantity.code === code)?.words ?? code
}

/** Everything that a line may be worked out of, by name. */
export function namesIn(procedure: Procedure, before = procedure.figures.length): Map<string, string> {
  return new Map([
    ...(procedure.grid.length ? [['grid', say('procedures.all_readings')] as const] : []),
    ...procedure.readings.map(({ code, words }) => [code, words] as const),
    ...procedure.sizes.map(({ code, words }) => [code, words] as const),
    ...procedure.figures.slice(0, before).map(({ code, words }) => [code, words] as const),
  ])
}

/** "largest spread along height: all readings of the grid" */
export function figureWords(line: FigureLine, procedure: Procedure): string {
  const names = namesIn(procedure)
  const values = line.of.map((name) => names.get(name) ?? name.replaceAll('/', ', ')).join('; ')
  return say('procedures.line_words', { operation: figureOperation(line, procedure), values })
}

function figureOperation(line: FigureLine, procedure: Procedure): string {
  const along = ALONG[line.do]
  if (along) return say(along, { axis: procedure.grid.find((known) => known.axis === line.along)?.words ?? line.along })
  if (line.by) return say('procedures.times', { factor: line.by })
  return FIGURE_OPERATIONS.find((known) => known.do === line.do)?.words ?? line.do
}

/** "places below 3/4 of the highest: compression" */
export function acrossWords(line: AcrossLine, procedure: Procedure): string {
  const below = BELOW[line.do]
  const share = line.share === 'rule' ? say('procedures.workshop_share') : line.share
  const operation = below ? say(below, { share }) : ACROSS_OPERATIONS.find((known) => known.do === line.do)?.words
  return say('procedures.line_words', { operation: operation ?? line.do, values: namesIn(procedure).get(line.of) ?? line.of })
}

/** "3 × 2 readings and 1 separate, 7 figures" */
export function sizeWords(procedure: Procedure): string {
  return [readingsWords(procedure), say('procedures.figures', { count: procedure.figures.length })].filter(Boolean).join(', ')
}

function readingsWords({ grid, readings }: Procedure): string {
  const lengths = grid.map((axis) => axis.values.length)
  const [first = 0] = lengths
  if (!lengths.length) return readings.length ? say('registers.readings', { count: readings.length }) : ''
  const inGrid = lengths.length > 1 ? say('procedures.grid_readings', { grid: lengths.join(' × ') }) : say('registers.readings', { count: first })
  return readings.length ? say('procedures.readings_and_separate', { readings: inGrid, count: readings.length }) : inGrid
}
