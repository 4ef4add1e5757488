import { describe, expect, it } from 'vitest'
import { layOut } from './FaceDrawing.tsx'
import { directionOf, magnification, MM, ovalThrough, times } from './magnified.ts'

describe('the magnification that is said is the one that is drawn', () => {
  it('is the largest round one that fits', () => {
    // 26 units are 6.88 mm on the sheet; 0.0135 mm goes into that 509 times.
    expect(magnification(0.0135, 26)).toBe(500)
    expect(magnification(0.006, 26)).toBe(1000)
    expect(0.006 * magnification(0.006, 26)).toBeLessThanOrEqual(26 * MM)
  })
  it('draws something for readings that are all alike', () => {
    expect(magnification(0, 26)).toBe(1000)
  })
  it.each([
    [1000, '1000'],
    [2.5, '2.5'],
  ])('%d is said as %s', (given, words) => expect(times(given)).toBe(words))
})

describe('the ring goes through what was read', () => {
  it('through two diameters square to each other', () => {
    const size = ovalThrough([
      { angle: 0, size: 89.012 },
      { angle: 90, size: 89.024 },
    ])
    expect(size(0)).toBeCloseTo(89.012, 9)
    expect(size(90)).toBeCloseTo(89.024, 9)
    expect(size(180)).toBeCloseTo(89.012, 9)
  })
  it('through three diameters of a housing bore', () => {
    const read = [
      { angle: 30, size: 60.001 },
      { angle: 90, size: 60.009 },
      { angle: 150, size: 60.004 },
    ]
    const size = ovalThrough(read)
    for (const reading of read) expect(size(reading.angle)).toBeCloseTo(reading.size, 9)
  })
  it('is a circle where there is one', () => {
    expect(ovalThrough([{ angle: 90, size: 20 }])(37)).toBe(20)
  })
})

describe('a direction from its words', () => {
  it.each([
    ['thrust', 0, 0],
    ['axial', 1, 90],
    ['60 deg', 1, 60],
    ['60 deg right', 1, 30],
    ['60 deg left', 2, 150],
    ['third', 2, 120],
  ])('%s', (words, index, degrees) => expect(directionOf(words, index, 3)).toBe(degrees))
})

it('lays the lines of a face along, across and from corner to corner', () => {
  const [longMark, two, cross, first, second] = layOut(['long_1', 'long_2', 'cross_1', 'diagonal_1', 'diagonal_2'])
  expect(longMark![1]).toBe(longMark![3])
  expect(two![1]).toBeGreaterThan(longMark![1]!)
  expect(cross![0]).toBe(cross![2])
  expect([first![1] < first![3]!, second![1] > second![3]!]).toEqual([true, true])
})
