import { beforeEach, expect, it } from 'vitest'
import { people } from '../../store/index.ts'
import { authorOf } from './who.ts'

const [IDA, DESK, PHONE] = ['ba18480f-0ecf-4912-8e56-444a48d7ecde', '7a0546a2-56f0-4b72-9da6-469cc046efea', '058183d1-3caa-47b1-b82e-950c61b23064']

beforeEach(() => {
  people.value = [{ id: IDA, name: 'Ida' } as (typeof people.value)[number]]
})

it('a machine transcript is by the office desk, not by someone unknown', () => {
  expect(authorOf({ author: DESK, device: DESK })).toBe('the office desk')
})

it('what a person made is by that person, at the desk and on a phone', () => {
  expect(authorOf({ author: IDA, device: DESK })).toBe('Ida')
  expect(authorOf({ author: IDA, device: PHONE })).toBe('Ida')
  expect(authorOf({ author: PHONE, device: DESK })).toBe('somebody not known here')
})
