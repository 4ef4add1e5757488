// A procedure as the register lists it.

import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { count } from '../../frame/words.ts'

/** "3 × 2 readings and 1 beside, 7 figures" */
export function inWords(procedure: Procedure): string {
  const grid = procedure.grid.map((axis) => axis.values.length)
  const readings = grid.length > 1 ? `${grid.join(' × ')} readings` : grid.length ? count(grid[0]!, 'reading') : ''
  const beside = procedure.readings.length
    ? `${readings ? ' and ' : ''}${readings ? `${procedure.readings.length} beside` : count(procedure.readings.length, 'reading')}`
    : ''
  return `${readings}${beside}, ${count(procedure.figures.length, 'figure')}`
}
