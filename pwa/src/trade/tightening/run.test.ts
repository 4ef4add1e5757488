import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { fold, Run, type Facts, type RunState, type ToolStatement } from './run.ts'
import type { TighteningSheet } from './sheets.ts'
import type { RunEntry } from './entries.ts'

interface Case {
  name: string
  sheet: TighteningSheet
  facts: Facts
  entries: RunEntry[]
  state: RunState
}

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/tightening.json', import.meta.url), 'utf8'))
const tools: ToolStatement[] = vectors.tools

describe('a run as both sides tell it', () => {
  it.each<Case>(vectors.cases)('$name', ({ sheet, entries, facts, state }) => {
    expect(fold(sheet, entries, tools, facts)).toEqual(state)
  })

  it.each<Case>(vectors.cases)('$name, the same wherever it was asked in between', ({ sheet, entries, facts, state }) => {
    const standing = entries.filter((entry) => !entry.withdrawn)
    const begun = standing.find((entry) => entry.kind === 'tightening_begun') ?? null
    const run = new Run(sheet, state.run, begun, tools, facts)
    for (const entry of standing) {
      run.take(entry)
      run.state()
    }
    expect({ ...run.state(), withdrawn: state.withdrawn }).toEqual(state)
  })

  it('passes over a kind that is a word of the language', () => {
    const { sheet, entries } = vectors.cases[1] as Case
    const odd = { ...entries[0]!, kind: 'constructor' }
    expect(fold(sheet, [odd, ...entries], tools)).toEqual(fold(sheet, entries, tools))
  })
})
