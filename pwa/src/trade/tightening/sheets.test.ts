import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import invented from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import type { EngineType } from '../engine/parts.ts'
import { check, readFile, type TighteningSheet, writeFile } from './sheets.ts'

interface Case {
  name: string
  set: Record<string, unknown> | null
  engine_type: boolean
  faults: [string, string][]
}

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/tightening_sheets.json', import.meta.url), 'utf8'))
const sound: TighteningSheet = vectors.sound
const engine = invented.engine_types.find((one) => one.name === vectors.engine_type) as unknown as EngineType

function changed(change: Record<string, unknown> | null): unknown {
  if (!change) return null
  const made = structuredClone(sound) as any
  for (const [path, value] of Object.entries(change)) {
    const way = path.split('.')
    const last = way.pop()!
    const at = way.reduce((inside, step) => inside[step], made)
    if ((value as any)?.$drop) delete at[last]
    else at[last] = value
  }
  return made
}

describe('tightening sheets', () => {
  it.each<Case>(vectors.cases)('$name', (one) => {
    const found = check(changed(one.set), one.engine_type ? engine : undefined)
    expect(found.map(({ where, message }) => [where, message])).toEqual(one.faults)
  })

  it('travel in a file', () => {
    expect(writeFile(sound)).toBe(vectors.file)
    expect(readFile(writeFile(sound))).toEqual(sound)
  })

  it.each<[string, string]>(vectors.bad_files)('refuse %s', (text, message) => {
    expect(() => readFile(text)).toThrow(message)
  })
})
