// The lines of a procedure in words a machinist reads: which operation, of what, along which axis.

import table from '../../../../../server/witnessmark/trade/data/operations.json'
import type { AcrossLine, FigureLine, Procedure } from '../../../trade/measuring/procedures.ts'

export interface Operation {
  do: string
  words: string
  least: number
  /** null: any number of values. */
  most: number | null
  along: boolean
  by: boolean
}

export interface AcrossOperation {
  do: string
  words: string
  share: boolean
}

export const FIGURE_OPERATIONS = table.figures as Operation[]
export const ACROSS_OPERATIONS: AcrossOperation[] = table.across

/** Everything that a line may be worked out of, by name. */
export function namesIn(procedure: Procedure, before = procedure.figures.length): Map<string, string> {
  return new Map([
    ...(procedure.grid.length ? [['grid', 'all readings of the grid'] as const] : []),
    ...procedure.readings.map(({ code, words }) => [code, words] as const),
    ...procedure.sizes.map(({ code, words }) => [code, words] as const),
    ...procedure.figures.slice(0, before).map(({ code, words }) => [code, words] as const),
  ])
}

/** "largest spread along height, of all readings of the grid" */
export function figureWords(line: FigureLine, procedure: Procedure): string {
  const names = namesIn(procedure)
  const doing = FIGURE_OPERATIONS.find((one) => one.do === line.do)?.words ?? line.do
  const axis = procedure.grid.find((one) => one.axis === line.along)?.words ?? line.along
  const said = line.along ? doing.replace('an axis', axis) : line.by ? `${line.by} times` : doing
  return `${said}: ${line.of.map((name) => names.get(name) ?? name.replaceAll('/', ', ')).join('; ')}`
}

export function acrossWords(line: AcrossLine, procedure: Procedure): string {
  const doing = ACROSS_OPERATIONS.find((one) => one.do === line.do)?.words ?? line.do
  const share = line.share === 'rule' ? "the workshop's share" : line.share
  const of = namesIn(procedure).get(line.of) ?? line.of
  return `${line.share ? doing.replace('a share', share) : doing}: ${of}`
}
