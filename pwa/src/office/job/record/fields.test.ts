import { expect, it } from 'vitest'
import { KINDS } from '../../../trade/record/kinds.ts'
import type { Item } from '../../frame/shapes.ts'
import { changesOf, choiceWords, CORRECTABLE, fieldWords, standing } from './fields.ts'

const measured = {
  kind: 'measured',
  body: { quantity: 'diameter', value: '89.012', unit: 'mm', gauge: '', remark: '' },
  place: 'main/2',
  point: '',
  corrected_by: [
    { id: 'a', exhibit: 50, by: 'Ida', reason: 'misread', changes: { value: '89.021' } },
    {
      id: 'b',
      exhibit: 51,
      by: 'Ida',
      reason: 'wrong cap',
      changes: { value: '89.022', location: { place: 'main/3', point: 'front' } },
    },
  ],
} as unknown as Item

const say = (code: string) => code.replace('/', ' ')

it('a value corrected twice shows each value that was struck out, in order', () => {
  expect(changesOf(measured, say)).toEqual([
    [{ field: 'value', from: '89.012', to: '89.021' }],
    [
      { field: 'value', from: '89.021', to: '89.022' },
      { field: 'location', from: 'main 2', to: 'main 3, front' },
    ],
  ])
})

it('what stands today is the record with all its corrections, and the record itself is untouched', () => {
  expect(standing(measured)).toEqual({
    body: { quantity: 'diameter', value: '89.022', unit: 'mm', gauge: '', remark: '' },
    place: 'main/3',
    point: 'front',
  })
  expect(measured.body['value']).toBe('89.012')
})

it('only fields that their kind has can be corrected, and each has a word', () => {
  for (const [kind, fields] of Object.entries(CORRECTABLE)) {
    for (const field of fields) {
      expect(KINDS[kind]?.fields, `${kind} has no ${field}`).toHaveProperty(field)
      expect(fieldWords(field)).not.toMatch(/_/)
    }
  }
})

it('a choice is said in the words of its kind', () => {
  expect(choiceWords('photo_taken', 'method', 'desk')).toBe('added at the desk')
  expect(choiceWords('note_made', 'text', 'As found.')).toBe('As found.')
})
