import { expect, test } from 'vitest'
import { STAGES } from '../../trade/engine/stages.ts'
import { stateOf } from './useWith.ts'

test('a reading is as found until something is cut, as built once the engine is put together, as found when it comes back', () => {
  const states = Object.fromEntries(STAGES.map(({ code }) => [code, stateOf(code)]))
  expect(states).toMatchObject({ measure: 'as_found', agree: 'as_found', machining: 'machined', build: 'built', run: 'built', release: 'built', return: 'as_found' })
  expect(stateOf(null)).toBe('as_found')
})
