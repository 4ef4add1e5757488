import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { exactText } from '../ground/amounts.ts'
import { machine } from './machining.ts'
import { read } from '../ground/units.ts'

const { cases } = JSON.parse(readFileSync(new URL('../../../../tests/vectors/machining.json', import.meta.url), 'utf8'))
const exact = (text: string) => read(text).amount

it.each<any>(cases)('$name', (one) => {
  const listed = one.listed && one.listed.map(exact)
  const made = () => machine(one.readings.map(exact), exact(one.nominal), one.steps.map(exact), exact(one.stock), one.bores, listed)
  if (one.refused) return expect(made).toThrow(one.refused)
  const { chosen, forcedBy, tried } = made()
  expect([chosen && exactText(chosen.step, 3), chosen && exactText(chosen.target, 3), forcedBy]).toEqual([
    one.chosen,
    one.target,
    one.forced_by,
  ])
  expect(tried.map((t) => [exactText(t.step, 3), exactText(t.target, 3), exactText(t.short, 3), t.listed])).toEqual(one.tried)
})
