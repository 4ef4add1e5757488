import { describe, expect, it } from 'vitest'
import type { Judged, Sheet, SheetFigure, SheetPlace, Taken } from '../../../trade/sheets/types.ts'
import { change } from './Compare.tsx'
import { beyond, cells, exact, order, standingOf } from './written.ts'
import { profilesOf, ringsOf, scaleOf } from './drawn.ts'

const taken = (mean: string, unit = 'mm'): Taken => ({ mean, unit, n: 1, scatter: '', values: [], odd: false, borrowed: null })

function judged(low: string, high: string, standing: Judged['standing'], unit = 'mm'): Judged {
  const limit = { limit: 'a', sort: 'service' as const, low, high, unit, source: 'made up', standing }
  return { ...limit, excess: '', side: '', probability: '', rule: 'guarded', settle: [], draw: { low: null, high: null } }
}

function figure(code: string, value: string | null, from: string[], now: Judged[] = []): SheetFigure {
  const blank = { definition: '', unit: 'mm', missing: [], u: null, U: null, k: '', dof: '', budget: [], unknown: [], guide: '', corrected: '', overdue: [] }
  return { code, words: code, value, from, now, then: null, draw: null, ...blank }
}

const READINGS = {
  'top/thrust': taken('89.012'),
  'top/axial': taken('89.024'),
  'bottom/thrust': taken('89.020'),
  'bottom/axial': taken('3.5050 in'.split(' ')[0]!, 'in'),
}
const PLACE: SheetPlace = {
  ...{ place: 'bore/3', name: 'bore 3', bank: 'A', done: true, missing: [], readings: READINGS },
  figures: [
    figure('largest', '89.024', ['top/axial'], [judged('89.000', '89.020', 'not proven')]),
    figure('ovality', '0.012', ['top/thrust', 'top/axial'], [judged('', '0.010', 'outside')]),
  ],
}
const SHEET = {
  axes: [
    { axis: 'height', words: 'height', values: [{ code: 'top', words: 'top' }, { code: 'bottom', words: 'bottom' }] },
    { axis: 'direction', words: 'direction', values: [{ code: 'thrust', words: 'thrust' }, { code: 'axial', words: 'axial' }] },
  ],
  places: [PLACE],
  readings_asked: [],
} as unknown as Sheet

describe('which readings lie beyond the limit', () => {
  it('are marked by the limit of the size that is read, to the last digit and across units', () => {
    // 3.5050 in is 89.027 mm; 89.020 mm lies on the limit, not beyond it.
    expect([...beyond(SHEET, PLACE)].sort()).toEqual(['bottom/axial', 'top/axial'])
  })
  it('are not marked by the limit of a figure worked out from two', () => {
    expect(beyond(SHEET, { ...PLACE, figures: [PLACE.figures[1]!] }).size).toBe(0)
  })
})

it('a place stands as its worst figure does', () => {
  expect(standingOf(PLACE.figures)).toBe('outside')
  expect(standingOf([figure('largest', '1', [])])).toBe('no limit')
  expect(standingOf([figure('largest', null, [])])).toBe(null)
})

it('compares without rounding', () => {
  expect(order(exact('0.1', 'mm')!, exact('100', 'um')!)).toBe(0)
  expect(order(exact('0.0040', 'in')!, exact('4 thou'.split(' ')[0]!, 'thou')!)).toBe(0)
  expect(exact('', 'mm')).toBe(null)
})

it('names the grid, first axis slowest', () => {
  expect(cells(SHEET).map(({ code }) => code)).toEqual(['top/thrust', 'top/axial', 'bottom/thrust', 'bottom/axial'])
})

describe('what is drawn', () => {
  it('is a ring for each height and a profile for each direction', () => {
    expect(ringsOf(SHEET, PLACE).map(({ words, readings }) => [words, readings.length])).toEqual([['top', 2], ['bottom', 2]])
    expect(profilesOf(SHEET, PLACE)[0]).toEqual({ words: 'thrust', sizes: [89.012, 89.02] })
  })
  it('is drawn about the middle of the limits', () => {
    const scale = scaleOf(SHEET)!
    expect([scale.about, scale.low, scale.high].map((value) => value!.toFixed(3))).toEqual(['89.010', '89.000', '89.020'])
    expect(scale.magnified).toBeGreaterThanOrEqual(100)
  })
})

describe('the change from one state to the next', () => {
  it.each([
    ['89.037', '89.510', '+0.473'],
    ['89.510', '89.500', '−0.010'],
    ['1', '1', '0'],
    [null, '1', '–'],
  ])('%s to %s is %s', (first, last, words) => {
    expect(change(figure('largest', first, []), figure('largest', last, []))).toBe(words)
  })
})
