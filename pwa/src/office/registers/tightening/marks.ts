// What is marked at the fasteners of a drawing.

import { say } from '../../frame/say.ts'

/** What is marked at a fastener beside its label. */
export interface Mark {
  /** In a divided frame under the head: the order specified, and the order done. */
  asked?: string
  done?: string
  /** The two differ: what was done is set in reverse. */
  apart?: boolean
  /** 'lit' is next, 'done' is behind, 'open' still missing. */
  look?: 'lit' | 'done' | 'open'
  /** A deviation: still open (brass, broken) or answered (ink). */
  ring?: 'open' | 'answered'
  /** All of that in words. */
  said?: string
}

/** The number of each fastener in an order. */
export function orderMarks(order: string[]): Record<string, Mark> {
  const marks: Record<string, Mark> = {}
  order.forEach((label, i) => {
    const before = marks[label]?.asked
    const numbers = before ? `${before},${i + 1}` : String(i + 1)
    marks[label] = { asked: numbers, look: 'done', said: say('tightening.number_in_order', { number: numbers }) }
  })
  return marks
}
