import { expect, it } from 'vitest'
import type { Item } from '../../frame/shapes.ts'
import { changesOf, standing } from './fields.ts'

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

it('a correction is read in the words of its kind, and a code that changed along with its words is left out', () => {
  const corrected_by = [{ id: 'c', exhibit: 52, by: 'Ida', reason: 'other bore gauge', changes: { gauge: 'Bore gauge B', gauge_id: 'b', state: 'built', material: 'aluminium' } }]
  const item = { ...measured, body: { ...measured.body, gauge: 'Bore gauge A', gauge_id: 'a', state: 'as_found', material: '' }, corrected_by } as unknown as Item
  expect(changesOf(item, say)).toEqual([
    [
      { field: 'gauge', from: 'Bore gauge A', to: 'Bore gauge B' },
      { field: 'state', from: 'as found', to: 'as built' },
      { field: 'material', from: '–', to: expect.stringContaining('alumin') },
    ],
  ])
})
