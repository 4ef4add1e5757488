import { describe, expect, it, vi } from 'vitest'
import { Closed } from './decoder.ts'

const LW = 6.5
interface Said {
  word: string
  seconds: number
  /** Natural logarithm for a frame: how far it lies below the likeliest sounds. */
  fits: number
}
let decodedWords: Said[] = []

/** A decoder that scores as soundswallower does: a path's sum, what each word and sound costs in it, scaled by 2 to the 10. */
class Played {
  private words = new Map<string, number>()
  private config: Record<string, number>
  constructor(config: Record<string, number>) {
    this.config = config
  }
  initialize = async () => undefined
  add_words = (...words: [string, string][]) => void words.forEach(([word, phones]) => this.words.set(word, phones.split(' ').length))
  set_grammar = () => undefined
  start = () => undefined
  process_audio = () => undefined
  stop = () => undefined
  get_config = () => LW
  get_text = () => decodedWords.map(({ word }) => word).join(' ')
  get_alignment() {
    const { wip = 0.65, pip = 1 } = this.config
    const scored = decodedWords.map(({ word, seconds, fits }) => {
      const cost = LW * (Math.log(wip) + (this.words.get(word) as number) * Math.log(pip))
      return { t: word, b: 0, d: seconds, p: Math.exp((fits * seconds * 100 + cost) / 1024) }
    })
    return { w: [{ t: '<sil>', b: 0, d: 0.5, p: 0.5 }, ...scored, { t: '(NULL)', b: 0, d: 0.01, p: 1 }] }
  }
}

vi.mock('soundswallower', () => ({ default: async () => ({ Decoder: Played }) }))

async function heard(...words: Said[]) {
  decodedWords = words
  const closed = await Closed.open({})
  await closed.know('a grammar', 'two T UW\nmillimetres M IH L IY M IY T ER Z')
  return closed.hear(new Float32Array(160))
}

describe('how well a sound fits its words', () => {
  it('is what each frame lacks, whatever a new word and a new sound cost', async () => {
    const { fit, least } = await heard({ word: 'two', seconds: 0.2, fits: -2 })
    expect(fit).toBeCloseTo(-2, 6)
    expect(least).toBeCloseTo(-2, 6)
  })

  it('a long word that fits as well as a short one is not the worse for it', async () => {
    const { fit, least } = await heard({ word: 'two', seconds: 0.2, fits: -2 }, { word: 'millimetres', seconds: 0.8, fits: -2 })
    expect(fit).toBeCloseTo(-2, 6)
    expect(least).toBeCloseTo(-2, 6)
  })

  it('the whole weighs words by their length, and silence not at all', async () => {
    const { text, fit, least } = await heard({ word: 'two', seconds: 0.25, fits: -6 }, { word: 'millimetres', seconds: 0.75, fits: -2 })
    expect(text).toBe('two millimetres')
    expect(fit).toBeCloseTo(-3, 6)
    expect(least).toBeCloseTo(-6, 6)
  })

  it('nothing of the grammar fits nothing', async () => {
    expect(await heard()).toEqual({ text: '', fit: -Infinity, least: -Infinity })
  })
})
