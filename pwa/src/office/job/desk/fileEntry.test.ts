import { expect, it } from 'vitest'
import { checkEntry } from '../../../trade/record/kinds.ts'
import { uuid7 } from '../../../trade/ground/uuid7.ts'
import { entryFor } from './fileEntry.ts'
import { titleFrom } from './FileForm.tsx'
import { fingerprint, typeOf } from './upload.ts'

const SHA = 'a'.repeat(64)
const UUID = '5a2d3c4e-1f60-4b7a-8c9d-0e1f2a3b4c5d'

/** The whole entry as the desk would sign it, to be judged by the rules of the trade. */
function asSigned(part: ReturnType<typeof entryFor>) {
  return {
    ...part,
    author: UUID,
    claimed: '2026-05-14T10:38:07.120+01:00',
    clock: { boot: '0a1b2c3d', monotonic_ms: 5, offset_ms: 0, offset_age_s: 0, zone: 'UTC' },
    device: UUID,
    id: uuid7(),
    job: UUID,
    previous: '0'.repeat(64),
    sequence: 1,
    stage: 'strip',
    version: 1,
    workshop: UUID,
  }
}

it('a picture from the desk becomes a photograph the record can take', () => {
  const file = new File(['x'], 'thrust_face.jpg', { type: 'image/jpeg', lastModified: 0 })
  const sent = { sha256: SHA, length: 1, type: 'image/jpeg' }
  const entry = entryFor(file, 'Thrust face', sent, { place: 'bore/3', point: '' }, { width: 4032, height: 3024 })
  expect(entry.body).toMatchObject({ method: 'desk', caption: 'Thrust face', width: 4032 })
  expect(() => checkEntry(asSigned(entry))).not.toThrow()
})

it('a certificate becomes a document, under its own name when it was given no title', () => {
  const file = new File(['x'], 'grinder_report-17.pdf', { type: 'application/pdf' })
  const entry = entryFor(file, '  ', { sha256: SHA, length: 1, type: 'application/pdf' }, null, null)
  expect(entry.kind).toBe('document_added')
  expect(entry.body['title']).toBe('grinder_report-17.pdf')
  expect(() => checkEntry(asSigned(entry))).not.toThrow()
})

it('a file of a kind the browser does not know is still taken, as bytes', () => {
  expect(typeOf({ name: 'gauge.dat', type: '' })).toBe('application/octet-stream')
})

it('a file name is offered as a title a person would write', () => {
  expect(titleFrom('grinder_report-17.pdf')).toBe('grinder report 17')
})

it('the print of a file is its SHA-256', async () => {
  // FIPS 180-4, example for "abc".
  expect(await fingerprint(new Blob(['abc']))).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad')
})
