import { beforeEach, expect, it } from 'vitest'
import { type Shot, asks, forget, goOn, series } from './pictures.ts'

const shot = (change: Partial<Shot>): Shot => ({
  key: 1,
  at: { job: 'j', place: 'bore/1', point: '' },
  state: 'saved',
  why: '',
  url: '',
  hints: { width: 4000, height: 3000, sharpness: '10.0', blurred: true, exposure: 'ok' },
  settled: false,
  files: [],
  record: 'r',
  ...change,
})

beforeEach(() => {
  series.value = []
})

it('a blurred picture asks once to be taken again, and only after it is saved', () => {
  expect(asks(shot({}))).toBe('blurred')
  expect(asks(shot({ state: 'keeping' }))).toBe('')
  expect(asks(shot({ settled: true }))).toBe('')
})

it('going on to the next picture answers the hint, never the news that a picture was not saved', () => {
  series.value = [shot({ key: 1 }), shot({ key: 2, state: 'not saved', hints: null })]
  goOn()
  expect(series.value.map(asks)).toEqual(['', 'not saved'])
})

it('leaving the screen keeps in hand what is not saved yet', () => {
  series.value = [shot({ key: 1 }), shot({ key: 2, state: 'not saved' }), shot({ key: 3, state: 'keeping' })]
  forget()
  expect(series.value.map((s) => s.key)).toEqual([2, 3])
})
