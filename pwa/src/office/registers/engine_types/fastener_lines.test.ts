import { describe, expect, it } from 'vitest'
import { between, drawn, grid, moved, nextLabel, ring, without, written } from './fastener_lines.ts'

describe('fasteners as lines of text', () => {
  const text = '1 52 -46\n2, -52, 46\nthree\n4 52 46.5'

  it('draws the lines that hold a label and two whole numbers', () => {
    expect(drawn(text)).toEqual([
      { label: '1', x_mm: 52, y_mm: -46 },
      { label: '2', x_mm: -52, y_mm: 46 },
    ])
  })

  it('moves one and leaves every other line as it was typed', () => {
    expect(moved(text, '1', 50.4, -0.2)).toBe('1 50 0\n2, -52, 46\nthree\n4 52 46.5')
    expect(moved(text, '2', 9000, 0)).toContain('2 5000 0')
    expect(without(text, '1')).toBe('2, -52, 46\nthree\n4 52 46.5')
  })

  it('reads back what it writes', () => {
    const placed = grid({ rows: 2, columns: 3, along: 98, across: 88 })
    expect(drawn(written(placed))).toEqual(placed)
  })

  it('numbers on from the greatest label', () => {
    expect(nextLabel([])).toBe(1)
    expect(nextLabel([...drawn('7 0 0\nA 1 1\n3 2 2')])).toBe(8)
  })
})

describe('fasteners by rows and round a circle', () => {
  it('spreads rows and columns about the middle', () => {
    expect(written(grid({ rows: 2, columns: 2, along: 104, across: 92 }))).toBe('1 -52 -46\n2 52 -46\n3 -52 46\n4 52 46')
    expect(written(grid({ rows: 1, columns: 1, along: 10, across: 10 }, 5))).toBe('5 0 0')
  })

  it('goes round clockwise from the top, opposite ones opposite', () => {
    expect(written(ring({ count: 4, diameter: 100, start: 0 }))).toBe('1 0 -50\n2 50 0\n3 0 50\n4 -50 0')
    const eight = ring({ count: 8, diameter: 160, start: 22.5 })
    for (const i of [0, 1, 2, 3]) {
      const [fastener, other] = [eight[i]!, eight[i + 4]!]
      expect([fastener.x_mm + other.x_mm, fastener.y_mm + other.y_mm]).toEqual([0, 0])
    }
  })
})

describe('numbers as they are typed', () => {
  it.each([
    ['4', 4],
    [' 22,5 ', 22.5],
    ['', null],
    ['x', null],
    ['201', null],
  ])('%s', (text, number) => expect(between(text, 0, 200)).toBe(number))
})
