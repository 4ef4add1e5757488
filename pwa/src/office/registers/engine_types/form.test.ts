import { describe, expect, it } from 'vitest'
import { checked } from '../../../../support/checked.ts'
import { faultsAt } from '../form/faults.ts'
import { draft } from './draft.ts'
import { fromForm, numbers, readForm, toForm, usual } from './form.ts'

const ID = '5a2d3c4e-1f60-4b7a-8c9d-0e1f2a3b4c5d'
const V6 = {
  ...draft(ID, 'v', 6),
  name: 'Halvern 2.9 V6',
  joints: [{ code: 'head_bolt/A', name: 'Head, bank A', fasteners: [{ label: '1', x_mm: 0, y_mm: -40 }] }],
}

it('an engine type opened and saved unchanged is the same engine type', () => {
  expect(fromForm(toForm(V6))).toEqual(V6)
})

it('numbers are taken as people write them', () => {
  expect(numbers('1-3-4-2')).toEqual([1, 3, 4, 2])
  expect(numbers('1, 3, 4, 2')).toEqual([1, 3, 4, 2])
  expect(numbers(' 1  3 4 2 ')).toEqual([1, 3, 4, 2])
})

it('what is no number is not silently dropped: the check names it', () => {
  const typed = { ...toForm(V6), firing_order: '1 2 3 4 5 six' }
  const [faults] = checked('engine_type', [[fromForm(typed)]])
  expect(faultsAt(faults!, 'firing_order')).toContain('six')
})

const USUAL = [
  ['inline', 4],
  ['inline', 6],
  ['v', 8],
  ['flat', 4],
  ['single', 1],
] as const
const forms = USUAL.map(([layout, cylinders]) => readForm(usual(layout, cylinders)))
const results = checked('engine_type', forms.map(({ value }) => [value]))

describe.each(USUAL.map((arrangement, i) => [...arrangement, i] as const))('the usual arrangement of %s with %i', (_layout, _cylinders, i) => {
  it('lacks only the name and what the maker alone can give', () => {
    const faults = [...forms[i]!.known, ...results[i]!]
    expect([...new Set(faults.map(({ where }) => where))].sort()).toEqual(['firing_order', 'name'])
  })
})

it('a fault inside a list stands beside the list', () => {
  const faults = [{ where: 'banks.1.cylinders', message: 'Bank B names no cylinder.' }]
  expect(faultsAt(faults, 'banks.1.cylinders')).toBe('Bank B names no cylinder.')
  expect(faultsAt(faults, 'banks')).toBe('Bank B names no cylinder.')
  expect(faultsAt(faults, 'bank')).toBe('')
})
