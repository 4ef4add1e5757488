import { execFileSync } from 'node:child_process'
import { describe, expect, it } from 'vitest'
import engines from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import type { EngineType } from '../engine/parts.ts'
import { read, sentenceOf } from './parse.ts'
import type { OwnWord, Proposal, Screen } from './types.ts'

const ENGINES = engines.engine_types as unknown as EngineType[]

interface Case {
  number: number
  text: string
  screen: Screen
  engine: number | null
  own: OwnWord[]
  proposal: Proposal
  complete: boolean
  said: string
}

// More, or others, when somebody changes the parser: CHANCE="2000 20000" npx vitest run src/trade/spoken/chance.test.ts
const [first, count] = (process.env['CHANCE'] ?? '0 2000').split(' ') as [string, string]
const root = new URL('../../../../', import.meta.url).pathname
const made = execFileSync(process.env['PYTHON'] ?? 'python3', ['-m', 'tests.spoken.chance', first, count], {
  cwd: root,
  encoding: 'utf8',
  env: { ...process.env, PYTHONPATH: `${root}server`, PYTHONIOENCODING: 'utf-8' },
  maxBuffer: 2 ** 30,
})
const CASES = made.trim().split('\n').map((line) => JSON.parse(line) as Case)

describe('lines of speech made by chance are read alike on the phone and on the server', () => {
  it('has the lines asked for', () => expect(CASES).toHaveLength(Number(count)))

  it('reads each of them word for word as the server does', () => {
    for (const vector of CASES) {
      const engine = vector.engine === null ? null : ENGINES[vector.engine]!
      const proposal = read(vector.text, vector.screen, engine, vector.own)
      expect(proposal, `${vector.number}: ${vector.text}`).toEqual(vector.proposal)
      expect(sentenceOf(proposal, engine), vector.text).toBe(vector.said)
    }
  }, 600_000)

  it('has lines that are complete and lines that are not', () => {
    const whole = CASES.filter((vector) => vector.complete).length
    expect(whole).toBeGreaterThan(CASES.length / 20)
    expect(whole).toBeLessThan(CASES.length / 2)
  })
})
