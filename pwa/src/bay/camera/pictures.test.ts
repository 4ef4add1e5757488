import { beforeEach, expect, it } from 'vitest'
import { type Shot, faultOf, forget, goOn, series } from './pictures.ts'

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
  expect(faultOf(shot({}))).toBe('blurred')
  expect(faultOf(shot({ state: 'keeping' }))).toBe('')
  expect(faultOf(shot({ settled: true }))).toBe('')
})

it('going on to the next picture answers the hint, never the news that a picture was not saved', () => {
  series.value = [shot({ key: 1 }), shot({ key: 2, state: 'failed', hints: null })]
  goOn()
  expect(series.value.map(faultOf)).toEqual(['', 'failed'])
})

it('leaving the screen keeps in hand what is not saved yet', () => {
  series.value = [shot({ key: 1 }), shot({ key: 2, state: 'failed' }), shot({ key: 3, state: 'keeping' })]
  forget()
  expect(series.value.map((s) => s.key)).toEqual([2, 3])
})
