import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import engines from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import { check, draft, readFile, writeFile, type EngineType } from './types.ts'
import type { Fault } from '../ground/errors.ts'
import type { Layout } from './parts.ts'

type Case = { name: string; of: string; set: Record<string, unknown>; without: string[]; faults: Fault[] }

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/engine_types.json', import.meta.url), 'utf8'))
const all = engines.engine_types as unknown as EngineType[]

function changed(one: Case): unknown {
  const engine = structuredClone(all.find((found) => found.name === one.of)!) as any
  for (const [path, value] of Object.entries(one.set)) {
    const way = path.split('.')
    const last = way.pop()!
    way.reduce((held, step) => held[step], engine)[last] = value
  }
  for (const name of one.without) delete engine[name]
  return engine
}

describe('an engine type is checked as a whole', () => {
  it.each(all)('the $name has no fault', (engine) => expect(check(engine)).toEqual([]))

  it.each<Case>(vectors.cases)('$name', (one) => expect(check(changed(one))).toEqual(one.faults))

  it.each<{ value: unknown; faults: Fault[] }>(vectors.no_engine_type)('$value is none', (one) => {
    expect(check(one.value)).toEqual(one.faults)
  })

  it.each<[Layout, number]>([['inline', 4], ['v', 8], ['v', 6], ['flat', 4], ['single', 1], ['inline', 3]])(
    'a new %s of %i lacks nothing but its name',
    (layout, cylinders) => {
      const made = draft('0197a3c0-0000-7000-8000-000000000009', layout, cylinders)
      expect(check(made).map((fault) => fault.where)).toEqual(['name'])
      expect(check({ ...made, name: 'New' })).toEqual([])
    },
  )

  it('comes back from its file as it went in', () => {
    expect(readFile(writeFile(all[2]!))).toEqual(all[2])
    expect(() => readFile('{"format": "another"}')).toThrow('Choose')
    expect(() => readFile('not json')).toThrow('Choose')
  })
})
