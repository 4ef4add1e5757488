import { describe, expect, test } from 'vitest'
import { beside, jointLayout, ordinal, type JointFastener } from './joint_layout.ts'

const at = (...spots: [number, number][]): JointFastener[] => spots.map(([x_mm, y_mm], index) => ({ label: String(index + 1), x_mm, y_mm }))
const HEAD = at([0, -44], [0, 44], [98, -44], [-98, 44], [-98, -44], [98, 44], [196, -44], [-196, 44], [-196, -44], [196, 44])
const SUMP = at(...Array.from({ length: 13 }, (_, i): [number, number] => [i * 30, 0]), ...Array.from({ length: 13 }, (_, i): [number, number] => [i * 30, 160]))
const ROUND = at([0, -38], [33, -19], [33, 19], [0, 38], [-33, 19], [-33, -19])

describe('where the fasteners of a joint stand on the sheet', () => {
  test.each([
    ['a head of ten on a phone', HEAD, 360, 260],
    ['the same on a small one', HEAD, 320, 168],
    ['a sump of twenty-six', SUMP, 360, 260],
    ['a flange', ROUND, 360, 230],
    ['a cap of two', at([-42, 0], [42, 0]), 360, 260],
    ['one bolt', at([7, 9]), 360, 260],
    ['two at one spot', at([7, 9], [7, 9]), 360, 260],
  ])('%s: inside the sheet, and a thumb fits between any two', (_, fasteners, width, height) => {
    const layout = jointLayout(fasteners, width, height)
    expect(layout.touch).toBeGreaterThanOrEqual(44)
    for (const { x, y } of layout.spots) {
      expect(x - layout.radius).toBeGreaterThanOrEqual(0)
      expect(x + layout.radius).toBeLessThanOrEqual(layout.width)
      expect(y - layout.radius).toBeGreaterThanOrEqual(0)
      expect(y + layout.radius).toBeLessThanOrEqual(layout.height)
    }
    layout.spots.forEach((spot, index) => {
      for (const other of layout.spots.slice(0, index)) {
        const apart = Math.max(Math.abs(spot.x - other.x), Math.abs(spot.y - other.y))
        if (apart > 0) expect(apart).toBeGreaterThanOrEqual(layout.touch)
      }
    })
  })

  test('what fits is not wider than the screen, what does not slides', () => {
    expect(jointLayout(HEAD, 360, 260).width).toBe(360)
    expect(jointLayout(SUMP, 360, 260).width).toBeGreaterThan(360)
  })

  test('a flange stays round', () => {
    const { spots } = jointLayout(ROUND, 360, 300)
    const [top, right] = [spots[0]!, spots[1]!]
    expect((right.x - top.x) / (right.y - top.y)).toBeCloseTo(33 / 19)
  })
})

test('a place in the order is said so that it is no number of a bolt', () => {
  expect([1, 2, 3, 4, 10, 11, 12, 13, 21, 22, 103, 111].map(ordinal)).toEqual([
    '1st', '2nd', '3rd', '4th', '10th', '11th', '12th', '13th', '21st', '22nd', '103rd', '111th',
  ])
})

test('arrow keys step to the neighbour in that direction', () => {
  const { spots } = jointLayout(HEAD, 360, 260)
  const from = spots[0]!
  expect(beside(spots, from, 'ArrowRight')?.label).toBe('3')
  expect(beside(spots, from, 'ArrowLeft')?.label).toBe('5')
  expect(beside(spots, from, 'ArrowDown')?.label).toBe('2')
  expect(beside(spots, from, 'ArrowUp')).toBeNull()
  expect(beside(spots, from, 'Enter')).toBeNull()
})
