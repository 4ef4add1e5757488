import { describe, expect, it } from 'vitest'
import { fold } from '../../../trade/tightening/run.ts'
import type { TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { marksOf, rowsOf, same, wayOf } from './done.ts'

const sheet = {
  bolt: 'reusable',
  two_people: false,
  uses_most: 0,
  stages: [
    { code: '1', words: 'Snug', method: 'torque', target: '30', unit: 'N·m', minus: '2', plus: '2', order: ['1', '2', '3', '4'], proposed: false, after: '' },
  ],
} as unknown as TighteningSheet
const run = '00000000-0000-4000-8000-000000000001'
const begun = { id: 'b', kind: 'tightening_begun', author: 'ida', claimed: '2026-05-14T10:00:00.000+01:00', body: { run, direction: 'tighten', bolts: 'new', use: 0, remark: '' } }

function tap(fastener: string, second: number, news: object = {}) {
  const body = { run, stage: '1', fastener, given: 'tap', method: 'torque', value: '', unit: '', tool: 'click wrench 2', tool_id: '', set_value: '', remark: '', basis: [], ...news }
  return { id: `t${second}`, kind: 'fastener_tightened', author: 'ida', claimed: `2026-05-14T10:00:0${second}.000+01:00`, body }
}

describe('a run as it was carried out', () => {
  const state = fold(sheet, [begun, tap('1', 1), tap('3', 2), tap('1', 3), tap('2', 4, { given: 'typed', value: '35', unit: 'N·m', tool: 'beam' })])
  const stage = state.stages[0]!

  it('numbers fasteners as they were done, beside the order asked for', () => {
    expect(rowsOf(stage, state.departures).map(({ label, number, again }) => [label, number, again])).toEqual([
      ['1', 1, false],
      ['3', 2, false],
      ['1', 0, true],
      ['2', 3, false],
    ])
    const marks = marksOf(stage, state.departures)
    expect(marks['1']).toMatchObject({ asked: '1', done: '1', apart: false, ring: 'open' })
    expect(marks['3']).toMatchObject({ asked: '3', done: '2', apart: true, ring: 'open' })
    expect(marks['2']!.said).toBe('specified as number 2, done as number 3, above the limit, still to be answered')
    expect(marks['4']).toEqual({ asked: '4', done: '', apart: false, look: 'open', said: 'specified as number 4, not done yet' })
    expect(wayOf(stage)).toEqual(['1', '3', '2'])
  })

  it('says what was done again once, at the row it happened in', () => {
    const sorts = rowsOf(stage, state.departures).map(({ departures }) => departures.map(({ sort }) => sort))
    expect(sorts).toEqual([[], ['out_of_order'], ['repeated'], ['over']])
  })

  it('marks nothing any more of what a restart of the stage undid', () => {
    const again = { id: 'r', kind: 'tightening_stage_restarted', author: 'ida', claimed: '2026-05-14T10:00:05.000+01:00', body: { run, stage: '1', reason: 'over' } }
    const late = fold(sheet, [begun, tap('1', 1, { given: 'typed', value: '39', unit: 'N·m' }), again, tap('1', 6)])
    expect(late.departures.map(({ sort, answered }) => [sort, answered?.how])).toEqual([['over', 'restart']])
    expect(rowsOf(late.stages[0]!, late.departures).map(({ departures }) => departures)).toEqual([[]])
    expect(marksOf(late.stages[0]!, late.departures)['1']!.ring).toBeUndefined()
  })

  it('names tool and person once where they are the same', () => {
    expect([same(stage.done, 'tool'), same(stage.done, 'by')]).toEqual([null, 'ida'])
  })
})
