import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import engines from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import { Refusal } from '../ground/errors.ts'
import type { EngineType } from '../engine/parts.ts'
import { example } from './pronunciation.ts'
import { dictionary, grammar, wordsOf } from './grammar.ts'
import type { OwnWord, Screen } from './types.ts'

interface Case {
  name: string
  screen: Screen
  engine: string
  own: OwnWord[]
  sha256: Record<Held, string>
  lines?: Record<Held, string[]>
}
type Held = 'grammar' | 'words' | 'dictionary'

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/spoken_grammar.json', import.meta.url), 'utf8'))
const engineOf = (name: string) => (engines.engine_types as EngineType[]).find((type) => type.name === name) ?? null

describe('the phone can hear on each screen exactly what the server can', () => {
  it.each<Case>(vectors.cases)('$name', (vector) => {
    const text = grammar(vector.screen, engineOf(vector.engine), vector.own)
    const words = wordsOf(text)
    const whole = { grammar: text, words: words.join('\n'), dictionary: dictionary(words, vector.own) }
    for (const key of ['grammar', 'words', 'dictionary'] as const) {
      if (vector.lines) expect(whole[key].trimEnd().split('\n')).toEqual(vector.lines[key])
      expect(createHash('sha256').update(whole[key]).digest('hex'), key).toBe(vector.sha256[key])
    }
  })
})

describe('a word of the workshop sounds like what it was said to sound like', () => {
  it.each<{ own: OwnWord; ways: string[] }>(vectors.examples)('$own.word', ({ own, ways }) => {
    expect(example(own)).toEqual(ways)
  })

  it('is refused when that holds a word that nobody knows, and says which', () => {
    const pronounced = () => example({ word: 'zzyzx', sounds_like: ['zyzzyva'], means: '' })
    expect(pronounced).toThrow(Refusal)
    expect(pronounced).toThrow('zyzzyva cannot be pronounced: it is not a known word')
  })

  it('is refused when nothing is said', () => {
    expect(() => example({ word: 'zzyzx', sounds_like: [], means: '' })).toThrow('Nothing is given that zzyzx sounds like')
  })
})
