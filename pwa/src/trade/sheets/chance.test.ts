import { execFileSync } from 'node:child_process'
import { describe, expect, it } from 'vitest'
import { known } from '../measuring/known.ts'
import type { EngineType } from '../engine/parts.ts'
import type { ReadingIn, Sheet } from './types.ts'
import type { KnownEntry } from '../measuring/entries.ts'
import { sheet } from './job_sheets.ts'

interface Case {
  name: string
  engine: EngineType | null
  known: KnownEntry[]
  readings: ReadingIn[]
  sheets: Sheet[]
}

// More, or others, when somebody changes the arithmetic: CHANCE="1000 2000" npx vitest run src/trade/sheets/chance.test.ts
const [first, count] = (process.env['CHANCE'] ?? '0 60').split(' ') as [string, string]
const root = new URL('../../../../', import.meta.url).pathname
const made = execFileSync(process.env['PYTHON'] ?? 'python3', ['-m', 'tests.sheets.chance', first, count], {
  cwd: root,
  encoding: 'utf8',
  env: { ...process.env, PYTHONPATH: `${root}server` },
  maxBuffer: 2 ** 30,
})
const CASES = made.trim().split('\n').map((line) => JSON.parse(line) as Case)

/** Through JSON, as the server gives it; names of every object count as its own. */
const plain = (value: unknown) => JSON.parse(JSON.stringify(value)) as unknown

describe('jobs made by chance come to the same on the phone and on the server, text for text', () => {
  it('has the jobs asked for', () => expect(CASES).toHaveLength(Number(count)))

  it.each(CASES)('$name', (vector) => {
    const register = known(vector.known)
    const sheets = vector.sheets.map(({ procedure, state }) => sheet(vector.engine, vector.readings, register, procedure, state))
    expect(plain(sheets)).toEqual(vector.sheets)
  })
})
