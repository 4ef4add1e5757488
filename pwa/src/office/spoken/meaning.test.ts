import { expect, test } from 'vitest'
import { sameMeaning } from './meaning.ts'

const sound = { body: { screen: 'measure', procedure: 'cylinder_bore', reading: 'top/thrust' }, place: 'bore/3', point: 'top, thrust' }

test('figures and the words for them are the same, another figure is not', () => {
  expect(sameMeaning('reads eighty eight point nine four millimetres', '88.94 mm', sound)).toBe(true)
  expect(sameMeaning('reads eighty eight point nine five millimetres', '88.94 mm', sound)).toBe(false)
  expect(sameMeaning('reads eighty eight point nine four', '88.94 mm', sound)).toBe(false)
})

test('talk says nothing that could be the same', () => {
  expect(sameMeaning('it may rain later', 'it may rain later', sound)).toBe(false)
})
