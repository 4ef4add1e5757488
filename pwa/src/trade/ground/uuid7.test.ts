import { expect, it } from 'vitest'
import { uuid7, uuid7From } from './uuid7.ts'

it('makes the identifier of RFC 9562 appendix A.6', () => {
  const random = Uint8Array.from([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f])
  expect(uuid7From(0x017f22e279b0, random)).toBe('017f22e2-79b0-7cc3-98c4-dc0c0c07398f')
})

it('makes identifiers that sort by time and never repeat', () => {
  const made = Array.from({ length: 500 }, (_, i) => uuid7(1_780_000_000_000 + i))
  expect([...made].sort()).toEqual(made)
  expect(new Set(made).size).toBe(500)
  for (const id of made) expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/)
})
