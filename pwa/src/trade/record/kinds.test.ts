import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { Refusal } from '../ground/errors.ts'
import { checkBody, checkEntry, KINDS } from './kinds.ts'
import type { Entry } from '../ground/entry.ts'

type Taken = { name: string; entry: Entry }
type Refused = Taken & { code: string; where: string }

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/kinds.json', import.meta.url), 'utf8'))

// The server alone checks what a described thing says: to a phone it is an object.
const DESCRIBED = ['engine_type', 'gauge', 'limit', 'size', 'procedure', 'measuring_rules', 'tightening_sheet', 'torque_tool']
const insideDescribed = ({ entry, where }: Refused) => {
  const field = where.split('.')[1] ?? ''
  const is = KINDS[entry.kind]?.versions[entry.version]?.body[field]?.is ?? ''
  return DESCRIBED.includes(is) && typeof entry.body[field] === 'object'
}
const refused = (vectors.refused as Refused[]).filter((vector) => !insideDescribed(vector))

describe('the phone takes and refuses what the server takes and refuses', () => {
  it.each<Taken>(vectors.taken)('takes $name', ({ entry }) => {
    expect(() => checkEntry(entry)).not.toThrow()
  })

  it.each<Refused>(refused)('refuses $name', ({ entry, code, where }) => {
    try {
      checkEntry(entry)
    } catch (error) {
      expect(error).toBeInstanceOf(Refusal)
      expect(error).toMatchObject({ code, where })
      return
    }
    throw new Error('was taken')
  })

  it('checks a form before the rest of the entry is there', () => {
    const { body } = (vectors.taken as Taken[]).find((vector) => vector.name === 'a reading that was typed, of today')!.entry
    expect(() => checkBody('measured', body)).not.toThrow()
    expect(() => checkBody('measured', { ...body, value: '' })).toThrow('body.value is empty')
  })

  it('knows which entries every phone keeps', () => {
    expect(KINDS['job_opened']).toMatchObject({ inWorkshopFeed: true, needsJob: true, media: null })
    expect(KINDS['photo_taken']).toMatchObject({ inWorkshopFeed: false, needsJob: true, media: { role: 'original' } })
  })
})
