// From where to where somebody speaks. What the microphone heard before and after makes a closed grammar stumble.

/** One frame is ten milliseconds. */
export const FRAME_MS = 10

const SPEECH = 0.5
/** A knock is no word: speech is there where so many frames of a window are speech. */
const WINDOW = 10
const ENOUGH = 5
/** What is left standing before and after, frames: soft beginnings and ends of words. */
const BEFORE = 25
const AFTER = 30

/**
 * First and last frame (not included) of what is spoken, from how likely each frame is speech (0 to 1). Null: nobody spoke.
 */
export function spokenSpan(likely: ArrayLike<number>): [number, number] | null {
  let first = -1
  let last = -1
  let within = 0
  for (let frame = 0; frame < likely.length; frame++) {
    if ((likely[frame] as number) >= SPEECH) within++
    if (frame >= WINDOW && (likely[frame - WINDOW] as number) >= SPEECH) within--
    if (within < ENOUGH) continue
    if ((likely[frame] as number) < SPEECH) continue
    last = frame
    if (first >= 0) continue
    first = Math.max(0, frame - WINDOW + 1)
    while ((likely[first] as number) < SPEECH) first++
  }
  return first < 0 ? null : [Math.max(0, first - BEFORE), Math.min(likely.length, last + 1 + AFTER)]
}
