// From sound to a proposal, step by step, and where it stops: what is not clearly understood is not understood.
import { hex } from './names.ts'
import { mixed, overNoise } from './noise.ts'
import { resample } from './resample.ts'
import { Closed, DECODE_RATE } from './decoder.ts'
import { DENOISE_RATE, type Denoiser, denoise } from './denoise.ts'
import { FRAME_MS, spokenSpan } from './trim.ts'
import type { Heard, Subject } from './shapes.ts'
import type { Proposal } from '../trade/spoken/types.ts'

/** Longer is no figure and no finding; the recording itself may be as long as it likes. */
const MOST_SECONDS = 30
/**
 * How well the sound has to fit all its words, and each of them (`Decoded.fit`); below, it was most likely something else.
 * Set on synthetic voices, lines of the half that may set bounds, as the others here: in quiet what was understood rightly
 * lay at -1.7 to -2.6 and its worst word at -5.3, chatter at -4.2 and worse.
 */
export const FITS = -3.5
export const WORD_FITS = -5.6
/**
 * A figure by itself is what chatter is most easily taken for: no place, point or quantity beside it has to fit as well. Chatter
 * and notes heard on a procedure's screen lay at -4.3 and worse.
 */
export const BARE_FITS = -3

/**
 * Speech less than so many decibels above its noise fits worse, so it is heard twice, the second time with a tenth of the
 * noise left in, and has to come to the same meaning. At 20 and 10 dB what was understood rightly lay at -2.3 to -4.0, chatter
 * at -4.7 and worse; misheard ones lie between, and of 9 the second hearing and these bounds let 2 pass, 1 of them complete.
 */
export const NOISY_DB = 25
export const NOISY_FITS = -4.1
const LEFT_IN = 0.1

/** Per cent of confidence for each 1 of fit. */
const PER_FIT = 10

/** The trade's part in it: what can be said, and what it means. */
export interface Language {
  grammar(subject: Subject): { jsgf: string; dictionary: string }
  read(text: string, subject: Subject): Proposal
  senseless(proposal: Proposal, subject: Subject): boolean
}

export interface Ears {
  closed: Closed
  denoiser: Denoiser
  language: Language
  by: string
}

/** Makes the decoder ready for a subject; returns the hash of what can be said about it. */
export async function ready(ears: Ears, subject: Subject): Promise<string> {
  const { jsgf, dictionary } = ears.language.grammar(subject)
  await ears.closed.know(jsgf, dictionary)
  return hex(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(`${jsgf}\n${dictionary}`)))
}

export async function recognise(ears: Ears, pcm: Float32Array, rate: number, subject: Subject): Promise<Omit<Heard, 'ms'>> {
  const vocabulary = await ready(ears, subject)
  const by = `${ears.by}, vocabulary ${vocabulary.slice(0, 12)}`
  const nothing = (why: Heard['why'], confidence = 0) => ({ text: '', proposal: null, confidence, by, why })
  if (pcm.length / rate > MOST_SECONDS) return nothing('too_long')
  const came = resample(pcm, rate, DENOISE_RATE)
  const { pcm: quiet, likely } = denoise(ears.denoiser, came)
  const span = spokenSpan(likely)
  if (!span) return nothing('silence')
  const [from, to] = span.map((frame) => (frame * FRAME_MS * DENOISE_RATE) / 1000) as [number, number]
  const heard = (sound: Float32Array) => ears.closed.hear(resample(sound.subarray(from, to), DENOISE_RATE, DECODE_RATE))
  const { text, fit, least } = heard(quiet)
  const confidence = Math.max(0, Math.round(100 + PER_FIT * fit))
  const noisy = overNoise(came, from, to) < NOISY_DB
  if (!text || fit < (noisy ? NOISY_FITS : FITS) || least < WORD_FITS) return nothing('unsure', confidence)
  const proposal = ears.language.read(text, subject)
  if (ears.language.senseless(proposal, subject)) return nothing('senseless', confidence)
  if (fit < BARE_FITS && isBare(proposal, subject)) return nothing('unsure', confidence)
  if (noisy && !alike(proposal, ears.language.read(heard(mixed(quiet, came, LEFT_IN)).text, subject))) return nothing('unsure', confidence)
  return { text, proposal, confidence, by, why: '' }
}

/** Whether they mean the same, by whatever words. */
const alike = (first: Proposal, second: Proposal): boolean => JSON.stringify({ ...first, left: [] }) === JSON.stringify({ ...second, left: [] })

const isBare = ({ value, place_spoken, quantity_spoken, point }: Proposal, { screen }: Subject): boolean =>
  screen.sort !== 'finding' && value !== '' && !place_spoken && !quantity_spoken && point === screen.point
