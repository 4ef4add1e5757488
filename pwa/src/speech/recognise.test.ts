import { describe, expect, it, vi } from 'vitest'
import { read } from '../trade/spoken/parse.ts'
import type { Proposal, Screen } from '../trade/spoken/types.ts'
import type { Closed, Decoded } from './decoder.ts'
import type { Denoiser } from './denoise.ts'
import { language } from './language.ts'
import { FITS, NOISY_FITS, WORD_FITS, recognise } from './recognise.ts'
import type { Subject } from './shapes.ts'

vi.mock('@jitsi/rnnoise-wasm/dist/rnnoise.js', () => ({ default: () => undefined }))
vi.mock('soundswallower', () => ({ default: () => undefined }))

const SCREEN: Screen = { sort: 'measure', place: '', point: '', procedure: '', reading: '', quantity: '', units: [] }
const SUBJECT: Subject = { screen: SCREEN, engine_type: null, own: [] }
/** A second of speech with silence before it. */
const SECOND = Float32Array.from({ length: 48_000 }, (_, n) => (n < 9600 ? 0 : 0.2 * Math.sin(n / 9)))
/** The same amid noise that is hardly softer. */
const NOISY = SECOND.map((x, n) => x + 0.1 * Math.sin(n / 3))

/** Ears whose denoiser finds speech everywhere, or nowhere, and whose decoder hears what the test says. */
function ears(decoded: Partial<Decoded>, likely = 1) {
  const HEAPF32 = new Float32Array(2000)
  const denoiser = { HEAPF32, _malloc: () => 4, _free: () => undefined, _rnnoise_create: () => 1, _rnnoise_destroy: () => undefined, _rnnoise_process_frame: () => likely }
  const known: string[] = []
  const hear = vi.fn((_: Float32Array) => ({ text: '', fit: 0, least: 0, ...decoded }))
  const closed = { know: async (grammar: string) => void known.push(grammar), hear }
  return { closed: closed as unknown as Closed, denoiser: denoiser as unknown as Denoiser, language, by: 'ears of a test', known, hear }
}

const heard = (decoded: Partial<Decoded>, likely = 1) => recognise(ears(decoded, likely), SECOND, 48_000, SUBJECT)

describe('from sound to a proposal', () => {
  it('what is clearly understood is offered as the trade reads it, with who heard it', async () => {
    const text = 'crankshaft end float reads eight thou'
    const result = await heard({ text, fit: -0.8 })
    expect(result).toMatchObject({ text, confidence: 92, why: '', proposal: read(text, SCREEN, null) })
    expect(result.proposal).toMatchObject({ value: '8', unit: 'thou' })
    expect(result.by).toMatch(/^ears of a test, vocabulary [0-9a-f]{12}$/)
    expect(result.by.length).toBeLessThanOrEqual(120)
  })

  it('in noise it is heard twice, and two answers are none', async () => {
    const here = ears({ text: 'bore three reads eight thou' })
    expect(await recognise(here, NOISY, 48_000, SUBJECT)).toMatchObject({ text: 'bore three reads eight thou' })
    expect(here.hear).toHaveBeenCalledTimes(2)
    here.hear.mockReturnValueOnce({ text: 'bore three reads eight thou', fit: 0, least: 0 })
    here.hear.mockReturnValueOnce({ text: 'bore three reads eighty thou', fit: 0, least: 0 })
    expect(await recognise(here, NOISY, 48_000, SUBJECT)).toMatchObject({ text: '', proposal: null, why: 'unsure' })
  })

  it('in noise two ways to say the same are no contradiction', async () => {
    const here = ears({})
    here.hear.mockReturnValueOnce({ text: 'bore three reads eight thou', fit: 0, least: 0 })
    here.hear.mockReturnValueOnce({ text: 'bore three reads eight thous', fit: 0, least: 0 })
    expect(await recognise(here, NOISY, 48_000, SUBJECT)).toMatchObject({ text: 'bore three reads eight thou' })
  })

  it('in noise it may fit a little worse, since it has to be the same twice', async () => {
    const text = 'bore three reads eight thou'
    expect(await recognise(ears({ text, fit: NOISY_FITS }), NOISY, 48_000, SUBJECT)).toMatchObject({ text })
    expect(await recognise(ears({ text, fit: NOISY_FITS - 0.01 }), NOISY, 48_000, SUBJECT)).toMatchObject({ text: '' })
    expect(await recognise(ears({ text, fit: NOISY_FITS }), SECOND, 48_000, SUBJECT)).toMatchObject({ text: '' })
  })

  it('in quiet once is enough', async () => {
    const here = ears({ text: 'bore three reads eight thou' })
    await recognise(here, SECOND, 48_000, SUBJECT)
    expect(here.hear).toHaveBeenCalledTimes(1)
  })

  it('silence needs no decoder', async () => {
    const here = ears({ text: 'bore three' }, 0)
    expect(await recognise(here, SECOND, 48_000, SUBJECT)).toMatchObject({ text: '', proposal: null, why: 'silence' })
    expect(here.hear).not.toHaveBeenCalled()
  })

  it.each([
    ['nothing of the grammar', { text: '', fit: -Infinity }],
    ['the whole fits badly', { text: 'bore three reads eight thou', fit: FITS - 0.01 }],
    ['one word fits badly', { text: 'bore three reads eight thou', least: WORD_FITS - 0.01 }],
  ])('%s: not understood', async (_, decoded) => {
    const result = await heard(decoded)
    expect(result).toMatchObject({ text: '', proposal: null, why: 'unsure' })
    expect(result.confidence).toBe(decoded.text ? result.confidence : 0)
  })

  it('words that come to nothing are senseless', async () => {
    expect(await heard({ text: 'sorry' })).toMatchObject({ text: '', proposal: null, why: 'senseless' })
  })

  it('what is taken back is no nonsense: it is told as taken back', async () => {
    const result = await heard({ text: 'no scrap that' })
    expect((result.proposal as Proposal).withdrawn).toBe(true)
  })

  it('more than half a minute is no figure', async () => {
    const long = new Float32Array(31 * 8000)
    expect(await recognise(ears({ text: 'bore three' }), long, 8000, SUBJECT)).toMatchObject({ text: '', why: 'too_long' })
  })

  it('the decoder gets sixteen thousand samples a second, cut to what is said', async () => {
    const here = ears({ text: 'eight thou' })
    await recognise(here, new Float32Array(44_100), 44_100, SUBJECT)
    expect(here.hear.mock.calls[0]?.[0].length).toBe(16_000)
  })
})
