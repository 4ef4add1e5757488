// How far speech stands above the noise around it, and the same speech with a little of that noise left in.

const FRAME = 480

/**
 * Decibels from the quietest tenth of a recording to the middle of what is spoken in it (samples `from` to `to`). Far below
 * a real ratio of powers where somebody speaks without a pause, which is the safe side.
 */
export function overNoise(pcm: Float32Array, from: number, to: number): number {
  const all: number[] = []
  const speech: number[] = []
  for (let at = 0; at + FRAME <= pcm.length; at += FRAME) {
    let power = 1e-12
    for (let k = at; k < at + FRAME; k++) power += (pcm[k] as number) ** 2 / FRAME
    all.push(power)
    if (at >= from && at + FRAME <= to) speech.push(power)
  }
  const rank = (powers: number[], share: number) => powers.sort((a, b) => a - b)[Math.floor(powers.length * share)] ?? 1e-12
  return 10 * Math.log10(rank(speech, 0.5) / rank(all, 0.1))
}

/** The cleaned sound with `share` of the sound as it came in it. */
export const mixed = (quiet: Float32Array, came: Float32Array, share: number): Float32Array<ArrayBuffer> =>
  Float32Array.from(quiet, (x, n) => (1 - share) * x + share * (came[n] ?? 0))
