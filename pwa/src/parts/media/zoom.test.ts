import { expect, it } from 'vitest'
import { WHOLE, about, closest, fitted, held } from './zoom.ts'

const picture = { w: 4032, h: 3024 }
const frame = { w: 360, h: 500 }

it('the whole picture fits its frame', () => {
  expect(fitted(picture, frame)).toEqual({ w: 360, h: 270 })
})

it('what is under the finger stays under it while the picture grows', () => {
  const point = { x: 100, y: -40 }
  const before = { scale: 1.5, x: 20, y: 10 }
  const after = about(before, point, 2)
  const spot = (v: typeof before) => [(point.x - v.x) / v.scale, (point.y - v.y) / v.scale]
  expect(spot(after)).toEqual(spot(before))
})

it('the picture grows until its own pixels can be told apart, and no further', () => {
  const most = closest(picture, frame, 2)
  expect(most).toBeGreaterThanOrEqual(4032 / 360 / 2)
  expect(held({ scale: 999, x: 0, y: 0 }, picture, frame, most).scale).toBe(most)
  expect(held({ scale: 0.2, x: 0, y: 0 }, picture, frame, most).scale).toBe(1)
})

it('no edge of an enlarged picture is dragged inside the frame', () => {
  const pulled = held({ scale: 3, x: 9999, y: -9999 }, picture, frame, 10)
  expect(pulled).toEqual({ scale: 3, x: (360 * 3 - 360) / 2, y: -(270 * 3 - 500) / 2 })
  expect(held({ ...WHOLE, x: 50, y: 50 }, picture, frame, 10)).toEqual(WHOLE)
})
