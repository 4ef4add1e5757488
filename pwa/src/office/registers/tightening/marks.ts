// What is marked at the fasteners of a drawing.

import type { Mark } from './JointPlan.tsx'

/** The number of each fastener in an order. */
export function orderMarks(order: string[]): Record<string, Mark> {
  const marks: Record<string, Mark> = {}
  order.forEach((label, i) => {
    const before = marks[label]?.asked
    const asked = before ? `${before},${i + 1}` : String(i + 1)
    marks[label] = { asked, look: 'done', said: `number ${asked} in the order` }
  })
  return marks
}
