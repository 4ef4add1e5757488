import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { exactText } from '../ground/amounts.ts'
import { shims } from './shims.ts'
import { read } from '../ground/units.ts'

const { cases } = JSON.parse(readFileSync(new URL('../../../../tests/vectors/shims.json', import.meta.url), 'utf8'))
const exact = (text: string) => read(text).amount

it.each<any>(cases)('$name', (one) => {
  const valves = one.valves.map(([place, ...sizes]: string[]) => {
    const [gap, shim, target] = sizes.map(exact)
    return { place, gap, shim, target }
  })
  const made = () => shims(valves, one.set.map(exact))
  if (one.refused) return expect(made).toThrow(one.refused)
  expect(
    made().map((s) => [s.place, exactText(s.wanted, 2), exactText(s.chosen, 2), exactText(s.gap, 2), s.source, s.reached]),
  ).toEqual(one.shims)
})
