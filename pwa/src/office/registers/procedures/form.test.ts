import { describe, expect, it } from 'vitest'
import { checked } from '../../../../support/checked.ts'
import { blank, codeFrom, fromForm, nextEdition, ownFrom, readForm, toForm } from './form.ts'
import { BUILT_IN } from '../../../trade/measuring/procedures.ts'

describe('a procedure typed and read back is the same', () => {
  it.each(Object.values(BUILT_IN).map((procedure) => [procedure.code, procedure] as const))('%s', (_, procedure) => {
    expect(fromForm(toForm(procedure))).toEqual(procedure)
  })
})

it('a copy is the workshop’s own, and sound', () => {
  const own = fromForm(ownFrom(BUILT_IN['crankpin']!))
  expect(own.code).toBe('own_crankpin_our_way')
  expect(checked('procedure', [[own]])).toEqual([[]])
})

it('a new edition counts on', () => {
  expect(nextEdition({ ...BUILT_IN['crankpin']!, code: 'own_pin' })).toMatchObject({ code: 'own_pin', edition: 2 })
})

describe('codes are made from words', () => {
  it.each([
    ['Thrust side', 'thrust_side'],
    ['2nd ring', 'n_2nd_ring'],
    ['Höhe', 'ho_he'],
  ])('%s', (words, code) => expect(codeFrom(words)).toBe(code))
})

it('an empty start lacks its name and nothing else', () => {
  const { value, known } = readForm(blank())
  expect(known.map(({ where }) => where)).toEqual(['name'])
  expect(checked('procedure', [[value]])).toEqual([[]])
})

it('an unknown operation is refused with the line', () => {
  const form = { ...blank(), name: 'Bush' }
  form.figures = [{ ...form.figures[0]!, do: 'average' }]
  const [faults] = checked('procedure', [[readForm(form).value]])
  expect(faults![0]!.where).toMatch(/^figures\.0/)
  expect(faults![0]!.message).toContain("there is no operation 'average'")
})
