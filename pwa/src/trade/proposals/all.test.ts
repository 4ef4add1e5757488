import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { known } from '../measuring/known.ts'
import { proposals } from './all.ts'

const { cases } = JSON.parse(readFileSync(new URL('../../../../tests/vectors/proposals.json', import.meta.url), 'utf8'))

it.each<any>(cases)('$name', (one) => {
  expect(proposals(one.sheets, known(one.entries), { id: one.engine_type })).toEqual(one.proposals)
})
