import { describe, expect, it } from 'vitest'
import { neighbour, frameOf, nearest, onJoint, onPaper } from './plan.ts'

const at = (label: string, x_mm: number, y_mm: number) => ({ label, x_mm, y_mm })
const head = [at('1', 52, -46), at('2', -52, 46), at('3', -52, -46), at('4', 52, 46), at('5', 156, -46)]

describe('a joint on the drawing', () => {
  it('keeps every head inside the frame and apart from the next', () => {
    for (const joint of [head, [at('1', 0, 0)], [at('1', -42, 0), at('2', 42, 0)], [at('1', 4000, 10), at('2', 4020, 10)]]) {
      const frame = frameOf(joint, true)
      for (const { x_mm, y_mm } of joint) {
        const { x, y } = onPaper(frame, x_mm, y_mm)
        expect(x - frame.radius).toBeGreaterThanOrEqual(0)
        expect(x + frame.radius).toBeLessThanOrEqual(frame.width)
        expect(y - frame.radius).toBeGreaterThanOrEqual(0)
        expect(y + frame.radius).toBeLessThanOrEqual(frame.height)
      }
    }
    expect(2 * frameOf(head).radius).toBeLessThan(nearest(head) * frameOf(head).unit)
  })

  it('takes a spot of the drawing back to the joint, to the millimetre', () => {
    const frame = frameOf(head)
    const { x, y } = onPaper(frame, -52, 46)
    expect(onJoint(frame, x + 0.1, y - 0.1)).toEqual({ x_mm: -52, y_mm: 46 })
  })

  it('steps to the fastener in that direction', () => {
    expect(neighbour(head, head[0]!, 'ArrowRight')?.label).toBe('5')
    expect(neighbour(head, head[0]!, 'ArrowDown')?.label).toBe('4')
    expect(neighbour(head, head[0]!, 'ArrowUp')).toBeUndefined()
  })
})
