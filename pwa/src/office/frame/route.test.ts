import { expect, it } from 'vitest'
import { address, parse } from './route.ts'

it('an address can be sent to a colleague and says the same there', () => {
  const there = address(['job', '42'], { place: 'bore/3', q: 'core plug & seal', stage: undefined })
  expect(parse(there)).toEqual({ path: ['job', '42'], values: { place: 'bore/3', q: 'core plug & seal' } })
})

it('an empty address is the register of jobs', () => {
  expect(parse('')).toEqual({ path: [], values: {} })
  expect(parse('#/')).toEqual({ path: [], values: {} })
})
