// Tally strokes as they are chalked on a wall: four upright, the fifth across, then the next gate of five.

const STEP = 4
const TALL = 10
const GATE = 5 * STEP + 3
/** More strokes than this are no longer counted at a glance: the number is written instead. */
export const MOST_STROKES = 15

/** Width in drawing units of the strokes for a count. */
export function tallyWidth(count: number): number {
  const gates = Math.floor(count / 5)
  const rest = count % 5
  return gates * GATE + (rest ? (rest - 1) * STEP : -5)
}

/** One path of strokes for a count, its top left corner at x, y. */
export function tallyPath(count: number, x: number, y: number): string {
  let path = ''
  for (let i = 0; i < count; i += 1) {
    const gate = Math.floor(i / 5)
    const left = x + gate * GATE
    const stroke = i % 5
    if (stroke < 4) path += `M${left + stroke * STEP} ${y}v${TALL}`
    else path += `M${left - 3} ${y + TALL - 1}L${left + 3 * STEP + 3} ${y + 1}`
  }
  return path
}
