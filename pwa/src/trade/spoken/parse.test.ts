import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import table from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import type { EngineType } from '../engine/parts.ts'
import { read, said } from './parse.ts'
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
const engineOf = (name: string | null) => ENGINES.find((one) => one.name === name) ?? null

function unsaid(screen: Screen): Proposal {
  const { place, point, quantity } = screen
  return {
    place, place_spoken: false, point, quantity, quantity_spoken: false, value: '', value_to: '', unit: '',
    conditions: [], disposition: '', asks: [], maybe: [], withdrawn: false, left: [],
  }
}

describe('what is said in the workshop becomes a proposal, and what is missing is asked for', () => {
  it.each<Case>(vectors.cases)('"$text" on $screen', (one) => {
    const screen = vectors.screens[one.screen] as Screen
    const engine = engineOf(one.engine)
    const found = read(one.text, screen, engine, one.own ? vectors.own : [])
    expect(found).toEqual({ ...unsaid(screen), ...one.is })
    if (one.said !== undefined) expect(said(found, engine)).toBe(one.said)
  })

  it.each<Chance>(vectors.chance)('by chance: "$text"', (one) => {
    const engine = one.engine === null ? null : ENGINES[one.engine]!
    const found = read(one.text, one.screen, engine, one.own)
    expect(found).toEqual(one.proposal)
    expect(said(found, engine)).toBe(one.said)
  })
})
