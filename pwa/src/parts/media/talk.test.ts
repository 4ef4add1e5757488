import { expect, test } from 'vitest'
import { comesDown, HELD_MS, letsGo, STILL } from './talk.ts'

test('held and let go, it listens from the touch to the letting go', () => {
  const [talk, first] = comesDown(false, 1000)
  expect(first).toBe('begin')
  expect(letsGo(talk, 4200)).toEqual([STILL, 'end'])
})

test('touched shortly, it goes on listening until the next touch', () => {
  const [talk] = comesDown(false, 1000)
  expect(letsGo(talk, 1120)).toEqual([STILL, ''])
  const [second, does] = comesDown(true, 6000)
  expect(does).toBe('end')
  expect(letsGo(second, 6000 + HELD_MS * 3)).toEqual([STILL, ''])
})

test('what lets go without having come down ends nothing', () => {
  expect(letsGo(STILL, 9000)).toEqual([STILL, ''])
})

test('a glove that trembles on the button opens no second recording: the second touch ends the first', () => {
  const [first] = comesDown(false, 0)
  letsGo(first, 60)
  expect(comesDown(true, 120)[1]).toBe('end')
})
