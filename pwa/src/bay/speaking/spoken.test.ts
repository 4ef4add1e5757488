import { expect, test } from 'vitest'
import type { Proposal } from '../../trade/spoken/types.ts'
import type { Sheet } from '../../trade/sheets/types.ts'
import { choicesOf, notUnderstood, wanting, whyNoFigure, whyNoFinding, withValue } from './spoken.ts'
import { cellFor } from '../measuring/spokenCell.ts'

const heard = (change: Partial<Proposal> = {}): Proposal => ({
  place: 'bore/3', place_spoken: false, point: '', quantity: 'diameter', quantity_spoken: false, value: '88.94', value_to: '', unit: 'mm',
  conditions: [], disposition: '', asks: [], maybe: [], withdrawn: false, left: [], ...change,
})

const reading = (code: string, words: string, quantity = 'diameter') => ({ code, words, quantity, optional: false })
const READINGS = [reading('top/thrust', 'top, thrust'), reading('top/axial', 'top, axial'), reading('gap', 'ring gap', 'end_gap')]
const none = { mean: '' }
const place = (code: string, taken: string[] = []) => ({
  place: code,
  readings: Object.fromEntries(READINGS.map((line) => [line.code, taken.includes(line.code) ? { mean: '88.94' } : none])),
})
const SHEET = { readings_asked: READINGS, places: [place('bore/3'), place('bore/4', ['top/thrust'])] } as unknown as Sheet
const MM = { place: 'bore/3', quantity: 'diameter', units: ['mm', 'in'] }
const LIT = { place: 'bore/3', reading: 'top/axial' }
const missing = (at: string) => ({ place: at, reading: at === 'bore/4' ? 'top/axial' : 'top/thrust' })

test('a figure alone belongs to the cell that is lit', () => {
  expect(cellFor(SHEET, heard(), LIT, missing).cell).toEqual(LIT)
})

test('a place and a point that were said come before what is lit', () => {
  const there = cellFor(SHEET, heard({ place: 'bore/4', place_spoken: true, point: 'top thrust' }), LIT, missing)
  expect(there.cell).toEqual({ place: 'bore/4', reading: 'top/thrust' })
})

test('a place alone leads to the reading that is still missing there', () => {
  expect(cellFor(SHEET, heard({ place: 'bore/4', place_spoken: true }), LIT, missing).cell).toEqual({ place: 'bore/4', reading: 'top/axial' })
})

test('a quantity that was said is never taken for another one of the lit cell', () => {
  expect(cellFor(SHEET, heard({ quantity: 'end_gap', quantity_spoken: true }), LIT, missing).cell).toEqual({ place: 'bore/3', reading: 'gap' })
  const foreign = cellFor(SHEET, heard({ quantity: 'torque', quantity_spoken: true }), LIT, missing)
  expect(foreign.cell).toBeNull()
  expect(foreign.why).toMatch(/does not read that/)
})

test('a place that the sheet does not have takes nothing', () => {
  expect(cellFor(SHEET, heard({ place: 'main/2', place_spoken: true }), LIT, missing).cell).toBeNull()
})

test('of two points that were named none is taken', () => {
  expect(cellFor(SHEET, heard({ asks: ['point'] }), LIT, missing).cell).toBeNull()
})

test('a missing unit is asked for and never filled in', () => {
  expect(wanting(heard({ unit: '' }), MM)).toEqual(['unit'])
  expect(wanting(heard({ unit: 'N·m' }), MM)).toEqual(['unit'])
  expect(wanting(heard({ unit: '', value: '4' }), { ...MM, quantity: 'count', units: [''] })).toEqual([])
})

test('doubtful digits and the two ends of a range are choices, and none is taken by itself', () => {
  const doubtful = heard({ value: '', maybe: ['88.94', '8894'], asks: ['digits'] })
  expect(choicesOf(doubtful)).toEqual(['88.94', '8894'])
  expect(wanting(doubtful, MM)).toEqual(['value'])
  const range = heard({ value: '15', value_to: '20' })
  expect(choicesOf(range)).toEqual(['15', '20'])
  expect(wanting(range, MM)).toEqual(['value'])
  expect(wanting(withValue(range, '20'), MM)).toEqual([])
})

test('what says nothing is not shown as anything', () => {
  expect(whyNoFigure('', heard())).toBe(notUnderstood())
  expect(whyNoFigure('bore three it will rain again eight', heard({ value: '8', asks: ['again'] }))).toBe(notUnderstood())
  expect(whyNoFigure('bore three', heard({ value: '' }))).toMatch(/No figure/)
  expect(whyNoFigure('no scrap that', heard({ value: '', withdrawn: true }))).toMatch(/Nothing is recorded/)
  expect(whyNoFinding('bore three', heard({ value: '' }))).toMatch(/No condition/)
  expect(whyNoFinding('bore three scored', heard({ conditions: ['scored'] }))).toBe('')
})
