import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { CONFIRM, loosening, propose } from './sequence.ts'

interface Case {
  name: string
  fasteners: [label: string, x: number, y: number][]
  shape: string
  order: string[]
}

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/sequence.json', import.meta.url), 'utf8'))

describe('proposed orders', () => {
  it.each<Case>(vectors.cases)('$name', (one) => {
    const made = propose(one.fasteners.map(([label, x_mm, y_mm]) => ({ label, x_mm, y_mm })))
    expect([made.shape, made.order]).toEqual([one.shape, one.order])
    expect(made.words.endsWith(CONFIRM)).toBe(true)
    expect(loosening(made.order)).toEqual([...one.order].reverse())
  })
})
