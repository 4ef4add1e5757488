import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import table from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import type { EngineType } from '../engine/parts.ts'
import { read, sentenceOf } from './parse.ts'
import type { OwnWord, Proposal, Screen } from './types.ts'

interface Case {
  text: string
  screen: string
  engine: string | null
  own?: boolean
  is: Partial<Proposal>
  said?: string
}

interface Chance {
  text: string
  screen: Screen
  engine: number | null
  own: OwnWord[]
  proposal: Proposal
  said: string
}

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/spoken.json', import.meta.url), 'utf8'))
const ENGINES = table.engine_types as unknown as EngineType[]
const engineOf = (name: string | null) => ENGINES.find((candidate) => candidate.name === name) ?? null

function unsaid(screen: Screen): Proposal {
  const { place, point, quantity } = screen
  return {
    place, place_spoken: false, point, quantity, quantity_spoken: false, value: '', value_to: '', unit: '',
    conditions: [], disposition: '', asks: [], maybe: [], withdrawn: false, left: [],
  }
}

describe('what is said in the workshop becomes a proposal, and what is missing is asked for', () => {
  it.each<Case>(vectors.cases)('"$text" on $screen', (vector) => {
    const screen = vectors.screens[vector.screen] as Screen
    const engine = engineOf(vector.engine)
    const proposal = read(vector.text, screen, engine, vector.own ? vectors.own : [])
    expect(proposal).toEqual({ ...unsaid(screen), ...vector.is })
    if (vector.said !== undefined) expect(sentenceOf(proposal, engine)).toBe(vector.said)
  })

  it.each<Chance>(vectors.chance)('by chance: "$text"', (vector) => {
    const engine = vector.engine === null ? null : ENGINES[vector.engine]!
    const proposal = read(vector.text, vector.screen, engine, vector.own)
    expect(proposal).toEqual(vector.proposal)
    expect(sentenceOf(proposal, engine)).toBe(vector.said)
  })
})
