import { expect, test } from 'vitest'
import type { Judged, Sheet, SheetFigure, SheetPlace, Taken } from '../../trade/sheets/types.ts'
import { headline, lastSaved, unitIn, missingAt, nextMissing, orderOf, takenIn, tallied, typed } from './grid.ts'

const taken = (claimed: string): Taken => ({
  mean: '89.010',
  unit: 'mm',
  n: 1,
  scatter: '',
  values: [{ id: claimed, exhibit: '', value: '89.010', unit: 'mm', gauge: '', gauge_id: '', overdue: false, claimed }],
  odd: false,
  borrowed: null,
})

function place(code: string, readings: Record<string, Taken> = {}, figures: SheetFigure[] = []): SheetPlace {
  return { place: code, name: code, bank: 'A', done: false, missing: [], readings, figures }
}

function sheet(...places: SheetPlace[]): Sheet {
  return {
    readings_asked: [
      { code: 'top', words: 'top', quantity: 'diameter', optional: false, borrowed: false },
      { code: 'bottom', words: 'bottom', quantity: 'diameter', optional: false, borrowed: false },
      { code: 'ridge', words: 'unworn ridge', quantity: 'diameter', optional: true, borrowed: false },
    ],
    places,
  } as unknown as Sheet
}

test('the walk goes place by place, or one reading over all places; optional readings hold nobody up', () => {
  const two = sheet(place('bore/1'), place('bore/2'))
  const stepsOf = (walk: 'place' | 'reading') => orderOf(two, walk).map((c) => `${c.place} ${c.reading}`)
  expect(stepsOf('place')).toEqual(['bore/1 top', 'bore/1 bottom', 'bore/2 top', 'bore/2 bottom'])
  expect(stepsOf('reading')).toEqual(['bore/1 top', 'bore/2 top', 'bore/1 bottom', 'bore/2 bottom'])
})

test('next is the first missing one after the last, and round to what was passed over', () => {
  const half = sheet(place('bore/1', { bottom: taken('b') }), place('bore/2', { top: taken('c'), bottom: taken('d') }))
  const order = orderOf(half, 'place')
  expect(nextMissing(order, takenIn(half), null)).toEqual({ place: 'bore/1', reading: 'top' })
  expect(nextMissing(order, takenIn(half), { place: 'bore/2', reading: 'bottom' })).toEqual({ place: 'bore/1', reading: 'top' })
  expect(missingAt(order, takenIn(half), 'bore/2')).toBeNull()
  expect(lastSaved(half)).toEqual({ place: 'bore/2', reading: 'bottom' })
  expect(tallied(half, half.places[0]!)).toEqual({ taken: 1, needed: 2, done: false })
})

test('the headline is the worst verdict, and without limits the first figure that has a value', () => {
  const figure = (code: string, standing: Judged['standing'] | null, value: string | null = '1', guide = '') =>
    ({ code, value, guide, now: standing ? [{ standing }] : [] }) as unknown as SheetFigure
  const at = (...figures: SheetFigure[]) => headline({ ...place('bore/1', {}, figures), done: true })?.figure.code
  expect(at(figure('a', 'within'), figure('b', 'outside'), figure('c', 'not proven'))).toBe('b')
  expect(at(figure('a', null, null), figure('b', null), figure('c', null))).toBe('b')
  expect(at(figure('a', 'outside'), figure('b', null, '0', 'STOP: it can touch.')), 'a stop holds without a limit').toBe('b')
  expect(at(figure('a', null, null))).toBeUndefined()
  expect(headline(place('bore/1', {}, [figure('a', null)])), 'without a limit it is told once the place is done').toBeNull()
})

test('the unit in hand is that of the readings that are there', () => {
  expect(unitIn(sheet(place('bore/1')), 'diameter')).toBe('')
  const inches = taken('b')
  inches.values[0]!.unit = 'in'
  expect(unitIn(sheet(place('bore/1', { top: taken('a'), bottom: inches }), place('bore/2', { top: taken('c') })), 'diameter')).toBe('mm')
  expect(unitIn(sheet(place('bore/1', { top: inches })), 'diameter')).toBe('in')
})

test('a value is kept as typed, its own unit before the chosen one', () => {
  expect(typed('diameter', '2.2440 in', 'mm')).toEqual({ value: '2.2440', unit: 'in' })
  expect(typed('diameter', '57,02', 'mm')).toEqual({ value: '57,02', unit: 'mm' })
  expect(typed('clearance', '3 1/2 thou', 'mm')).toEqual({ value: '3 1/2', unit: 'thou' })
  expect(typed('clearance', '+0.02', 'mm')).toEqual({ value: '+0.02', unit: 'mm' })
  expect(typed('diameter', '1/2"', 'mm')).toEqual({ value: '1/2', unit: 'in' })
  expect(() => typed('diameter', '57.0.2', 'mm')).toThrow(/is not a number/)
  expect(() => typed('diameter', '57 bar', 'mm')).toThrow(/not measured in bar/)
  expect(() => typed('diameter', '', 'mm')).toThrow(/No number is typed/)
})
