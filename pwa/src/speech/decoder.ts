// soundswallower behind three words: open, know these words, hear this.
import createModule, { type Decoder, type Segment, type SoundSwallowerModule } from 'soundswallower'

/** What the acoustic model is decoded at. */
export const DECODE_RATE = 16_000

export interface Decoded {
  text: string
  /**
   * How well the sound fits its words: for each frame, how much less likely (natural logarithm) they are than the sounds that the
   * model finds likeliest just then. 0 is the best there is; talk that was forced into a grammar lies far below.
   */
  fit: number
  /** The same of the word that fits least. */
  least: number
}

/**
 * States looked at in one frame. Measured: a seventh less work than without a bound and the same words; at 1200 some are
 * lost, and narrower beams lose more than they save.
 */
const MOST_AT_ONCE = 3000

/**
 * A new word and a new sound cost more than by itself (0.65 and 1): it put short words, "oh" and "eight", where none were
 * spoken (87 lines spoken by synthesisers, quiet: 82 right, so 84; at 10 dB: 39, so 43).
 */
const NEW_WORD = 0.01
const NEW_SOUND = 0.5

/**
 * What the decoder calls the probability of a word is the score of its stretch of the path: summed over the frames, so that a
 * long word has less of it than a short one, with what the word and its sounds cost, and by a scale of its own, 2 to the 10.
 */
const SCALE = 1024
const FRAMES = 100

const NOT_WORDS = new Set(['<sil>', '(NULL)', '<s>', '</s>', '[NOISE]', '[SPEECH]'])

/** A closed recogniser: it hears what its grammar can say, and nothing else. */
export class Closed {
  private known = new Map<string, string>()
  private grammar = ''
  private module: SoundSwallowerModule
  private decoder: Decoder

  private constructor(module: SoundSwallowerModule, decoder: Decoder) {
    this.module = module
    this.decoder = decoder
  }

  /** `options` are the module's own: where its files are. Rejects when the program or its model cannot be loaded. */
  static async open(options: object): Promise<Closed> {
    const module = await createModule({ ...options, print: () => undefined, printErr: () => undefined } as Parameters<typeof createModule>[0])
    return new Closed(module, await decoderOf(module))
  }

  /** Takes a grammar (JSGF) and the dictionary of its words, one 'word P H O N E S' to a line, 'word(2) ...' for another way to say it. */
  async know(grammar: string, dictionary: string): Promise<void> {
    const words = dictionary.split('\n').filter(Boolean).map(split)
    // A word that is spoken differently now: the dictionary of a decoder only grows.
    if (words.some(([word, phones]) => (this.known.get(word) ?? phones) !== phones)) {
      this.decoder.delete()
      this.decoder = await decoderOf(this.module)
      this.known.clear()
      this.grammar = ''
    }
    const fresh = words.filter(([word]) => !this.known.has(word))
    if (fresh.length) this.decoder.add_words(...fresh)
    for (const [word, phones] of fresh) this.known.set(word, phones)
    if (grammar === this.grammar) return
    this.decoder.set_grammar(grammar)
    this.grammar = grammar
  }

  hear(pcm: Float32Array): Decoded {
    this.decoder.start()
    this.decoder.process_audio(pcm, false, true)
    this.decoder.stop()
    const text = this.decoder.get_text()
    const words = text ? (this.decoder.get_alignment().w ?? []).filter((word: Segment) => !NOT_WORDS.has(word.t)) : []
    if (!words.length) return { text: '', fit: -Infinity, least: -Infinity }
    const frames = words.map(({ d }) => Math.max(1, d * FRAMES))
    const scores = words.map((word) => this.score(word))
    const sum = (all: number[]) => all.reduce((total, score) => total + score, 0)
    return { text, fit: sum(scores) / sum(frames), least: Math.min(...scores.map((score, n) => score / (frames[n] as number))) }
  }

  /** Of the sounds of a word alone: what it cost to begin it and each of its sounds does not show how it fits. */
  private score({ t, p }: Segment): number {
    const sounds = (this.known.get(t) ?? '').split(' ').filter(Boolean).length
    const cost = this.decoder.get_config('lw') as number
    return SCALE * Math.log(Math.max(p, 1e-6)) - cost * (Math.log(NEW_WORD) + sounds * Math.log(NEW_SOUND))
  }
}

async function decoderOf(module: SoundSwallowerModule): Promise<Decoder> {
  // Without a rate it takes the sound for 44.1 kHz. The words come with each grammar: the model's own dictionary stays away.
  const decoder = new module.Decoder({ samprate: DECODE_RATE, dict: 'none', maxhmmpf: MOST_AT_ONCE, wip: NEW_WORD, pip: NEW_SOUND, loglevel: 'FATAL' })
  await decoder.initialize()
  return decoder
}

function split(line: string): [string, string] {
  const gap = line.indexOf(' ')
  return [line.slice(0, gap), line.slice(gap + 1)]
}
