// The judge is soundswallower (https://github.com/ReadAlongs/SoundSwallower), the decoder of the phone: it reads the
// grammar and the dictionary of every screen itself.
import { readFileSync } from 'node:fs'
import createModule, { type Decoder, type SoundSwallowerModule } from 'soundswallower'
import { beforeAll, describe, expect, it } from 'vitest'
import engines from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import type { EngineType } from '../engine/parts.ts'
import { dictionary, grammar, wordsOf } from './grammar.ts'
import type { OwnWord, Screen } from './types.ts'

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/spoken_grammar.json', import.meta.url), 'utf8'))
const engineOf = (name: string) => (engines.engine_types as EngineType[]).find((type) => type.name === name) ?? null
const MODEL = new URL('../../../node_modules/soundswallower/model/', import.meta.url).pathname
let module: SoundSwallowerModule

beforeAll(async () => {
  module = await createModule({ modelBase: MODEL, print: () => undefined, printErr: () => undefined } as Parameters<typeof createModule>[0])
})

async function knowing(text: string, lines: string): Promise<Decoder> {
  const decoder = new module.Decoder({ samprate: 16_000, dict: 'none', loglevel: 'FATAL' })
  await decoder.initialize()
  decoder.add_words(...lines.trimEnd().split('\n').map((line) => line.split(/ (.*)/).slice(0, 2) as [string, string]))
  decoder.set_grammar(text)
  return decoder
}

// The general vocabulary is heard on the server alone.
const ON_THE_PHONE = (vectors.cases as { screen: Screen }[]).filter(({ screen }) => screen.sort !== 'any')

describe('the decoder of the phone takes the grammar of every screen', () => {
  it.each<{ name: string; screen: Screen; engine: string; own: OwnWord[] }>(ON_THE_PHONE as never)('$name', async (vector) => {
    const text = grammar(vector.screen, engineOf(vector.engine), vector.own)
    const decoder = await knowing(text, dictionary(wordsOf(text), vector.own))
    decoder.start()
    decoder.process_audio(new Float32Array(8000), false, true)
    decoder.stop()
    expect(typeof (decoder.get_text() ?? '')).toBe('string')
    decoder.delete()
  })

  it('and refuses one with a fault, so that it can say no', async () => {
    const { screen, engine } = vectors.cases[0]
    const text = grammar(screen, engineOf(engine))
    const lines = dictionary(wordsOf(text))
    await expect(knowing(text.replace('<digit> =', '<digit>'), lines)).rejects.toThrow('Failed to parse JSGF')
    await expect(knowing(text.replace('millimetres', 'millimetrez'), lines)).rejects.toThrow('Failed to set FSG')
  })
})
