import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import type { Entry } from '../ground/entry.ts'
import { BUILT_IN } from '../measuring/procedures.ts'
import { checkCorrection } from './correcting.ts'
import { alongWith, changed, correctable, editorOf, fieldLabel, fieldWords, isShown, withOwn, written, type FormTables } from './fields.ts'
import { GROUPS, KINDS } from './kinds.ts'

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/kinds.json', import.meta.url), 'utf8'))
const taken = vectors.taken as { name: string; entry: Entry }[]
const NONE: FormTables = { gauges: [], procedure: null }
const ONE_GAUGE: FormTables = { gauges: [{ id: '0190d3a0-0000-7000-8000-000000000001', name: 'Bore gauge' }], procedure: null }
const kinds = Object.values(KINDS)

describe('no kind falls through', () => {
  it.each(kinds)('$name: every field has a label, and what may be corrected an editor', (kind) => {
    expect(Object.keys(GROUPS)).toContain(kind.group)
    for (const { body } of Object.values(kind.versions)) {
      for (const field of Object.keys(body)) expect(fieldLabel(kind.name, field), field).toMatch(/^[a-z][^_]*$/)
    }
    for (const [field, { correct }] of Object.entries(kind.fieldFacts)) {
      if (correct) expect(editorOf(kind.name, field, NONE), `${kind.name} ${field}`).not.toBeNull()
    }
    for (const field of kind.readThere) expect(kind.fields).toHaveProperty(field)
  })

  it.each(taken)('$name: its form changes nothing until somebody types, and what it makes fits', ({ entry }) => {
    const before = Object.fromEntries(correctable(entry).map((field) => [field, written(entry.body[field])]))
    expect(changed(entry.kind, before, before)).toEqual({})
    for (const field of Object.keys(before)) {
      const { options, figures } = editorOf(entry.kind, field, ONE_GAUGE)!
      const other = options?.find(({ value }) => value !== before[field])?.value ?? (figures ? '57.03' : 'another')
      const changes = changed(entry.kind, before, { ...before, [field]: other })
      if (other !== before[field]) expect(Object.keys(changes)).toEqual([field])
      if (other !== before[field]) expect(() => checkCorrection({ changes, location: null }, entry)).not.toThrow()
    }
  })

  it.each(taken)('$name: what is offered for correction is in the record', ({ entry }) => {
    for (const field of correctable(entry)) expect(entry.body).toHaveProperty(field)
    if (KINDS[entry.kind]!.corrections !== 'offered') expect(correctable(entry)).toEqual([])
  })
})

it('a value is said in the words of its kind, or of the table that it is a code of', () => {
  expect(fieldWords('photo_taken', 'method', 'desk')).toBe('added at the desk')
  expect(fieldWords('note_made', 'text', 'As found.')).toBe('As found.')
  expect(fieldWords('measured', 'procedure', 'cylinder_bore')).toBe(BUILT_IN['cylinder_bore']!.name)
  expect(fieldWords('measured', 'quantity', 'end_float')).toBe('end float')
  expect(fieldWords('fastener_tightened', 'given', 'typed')).toBe('typed')
  expect(fieldWords('checklist_ticked', 'ticked', true)).toBe('yes')
  expect(fieldWords('finding_made', 'condition', ['scored', 'bent'])).toBe('scored, bent')
  expect(fieldWords('finding_made', 'opinion', '')).toBe('–')
  expect(fieldLabel('measured', 'state')).toBe('state of the part')
  expect(fieldLabel('fastener_tightened', 'state')).toBe('thread')
  expect([isShown('photo_taken', 'exposure', 'ok'), isShown('photo_taken', 'exposure', 'dark')]).toEqual([false, true])
})

it('the quantity that a procedure asks for is not a person’s to change', () => {
  const body = { procedure: '', reading: '', quantity: 'diameter', value: '1' }
  expect(correctable({ kind: 'measured', body })).toContain('quantity')
  expect(correctable({ kind: 'measured', body })).not.toContain('reading')
  const measured = { ...body, procedure: 'cylinder_bore', reading: 'top/thrust' }
  expect(correctable({ kind: 'measured', body: measured })).not.toContain('quantity')
  expect(correctable({ kind: 'measured', body: measured })).toContain('reading')
})

it('a gauge that is chosen brings its name, and a reading the words of its point', () => {
  const tables: FormTables = { gauges: [{ id: 'b', name: 'Bore gauge B' }], procedure: BUILT_IN['cylinder_bore']! }
  expect(alongWith('measured', 'gauge_id', 'b', tables)).toEqual({ values: { gauge: 'Bore gauge B' } })
  expect(alongWith('measured', 'value', '57', tables)).toEqual({})
  const reading = editorOf('measured', 'reading', tables)!.options![0]!
  expect(alongWith('measured', 'reading', reading.value, tables)).toEqual({ point: reading.words })
  expect(withOwn(editorOf('measured', 'gauge_id', tables)!.options, 'gone')![0]).toEqual({ value: 'gone', words: 'gone' })
})

it('words separated by commas become a list, each once', () => {
  expect(changed('finding_made', { condition: '' }, { condition: 'scored, bent ,scored' })).toEqual({ condition: ['scored', 'bent'] })
})
