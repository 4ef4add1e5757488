import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { canonical, canonicalBytes, parse, sha256Hex } from './canonical.ts'

type Case = { name: string; value: unknown; canonical: string; sha256: string }
type Refused = { name: string; json: string }

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/canonical.json', import.meta.url), 'utf8'))

describe('canonical text is the same on the phone and on the server', () => {
  it.each<Case>(vectors.cases)('$name', async (c) => {
    expect(canonical(c.value)).toBe(c.canonical)
    expect(await sha256Hex(canonicalBytes(c.value))).toBe(c.sha256)
    expect(canonical(parse(c.canonical))).toBe(c.canonical)
  })

  it.each<Refused>(vectors.refusals)('refuses $name', ({ json }) => {
    expect(() => canonical(JSON.parse(json))).toThrow()
  })

  it('refuses what JSON has no word for', () => {
    for (const value of [undefined, NaN, Infinity, new Date(), new Map(), () => 1, 1n, { a: undefined }]) {
      expect(() => canonical(value)).toThrow()
    }
  })

  it('parses nothing that is written in another way', () => {
    for (const text of ['{"b":1,"a":2}', '{ "a":1}', '"\\u0041"', '1.0', '{"a":1,"a":1}']) {
      expect(() => parse(text)).toThrow()
    }
  })
})
