// Turns of the event loop, counted: when none is left, nothing can happen in any page until the driver does something.

const real = globalThis.setImmediate
let open = 0

globalThis.setImmediate = ((work: (...given: unknown[]) => void, ...given: unknown[]) => {
  open++
  return real(() => {
    open--
    work(...given)
  })
}) as typeof setImmediate

/** A promise that is kept one turn later, as the answers of crypto are: an open transaction of the store does not wait for it. */
export const later = <V>(value: V): Promise<V> => new Promise((keep) => setImmediate(() => keep(value)))

/** Resolves when no turn is left. */
export async function quiet(): Promise<void> {
  do await new Promise((next) => real(next))
  while (open > 0)
}

/** Numbers from 0 up to 1 that follow from the seed alone (mulberry32). */
export function random(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
}
