import { describe, expect, it } from 'vitest'
import table from '../../../../../server/witnessmark/trade/data/procedures.json'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { ACROSS_OPERATIONS, acrossWords, FIGURE_OPERATIONS, figureWords } from './line_words.ts'

const PROCEDURES = table.procedures as unknown as Procedure[]
const BORE = PROCEDURES.find((procedure) => procedure.code === 'cylinder_bore')!

describe('the lines of a procedure in words', () => {
  it('name the axis in every operation along one', () => {
    for (const operation of FIGURE_OPERATIONS.filter(({ along }) => along)) {
      const axis = BORE.grid[0]!
      const line = { ...BORE.figures[0]!, do: operation.do, of: ['grid'], along: axis.axis, by: '' }
      expect(figureWords(line, BORE)).toContain(axis.words)
      expect(figureWords(line, BORE)).not.toContain('an axis')
    }
  })

  it('name the share in every comparison with the highest', () => {
    const compared = ACROSS_OPERATIONS.filter(({ share }) => share)
    expect(compared).toHaveLength(2)
    for (const operation of compared) {
      const line = { code: 'x', words: 'x', do: operation.do, of: BORE.figures[0]!.code, share: '3/4', definition: '' }
      expect(acrossWords(line, BORE)).toContain(' 3/4 of the highest')
      expect(acrossWords({ ...line, share: 'rule' }, BORE)).toContain("the workshop's fraction of the highest")
    }
  })
})
