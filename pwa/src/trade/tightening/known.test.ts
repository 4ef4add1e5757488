import { describe, expect, it } from 'vitest'
import holds from '../../../../tests/vectors/tightening_holds.json'
import vectors from '../../../../tests/vectors/tightening_known.json'
import { openHolds } from './holds.ts'
import { basisForRun, knownTightening, sheetFor, sheetOf, toolsOf } from './known.ts'

describe('which sheet and which tool counts', () => {
  const known = knownTightening(vectors.said as any)

  for (const vector of vectors.sheet_for) {
    it(`has the sheet to ${vector.direction} ${vector.joint}, or none`, () => {
      expect(sheetFor(known, vector.engine_type, vector.joint, vector.direction)?.entry ?? null).toBe(vector.entry)
    })
  }

  for (const vector of vectors.sheet_of) {
    it(`has the sheet of a run: ${vector.name}`, () => {
      expect(sheetOf(known, vector.begun, vector.claimed)?.entry ?? null).toBe(vector.entry)
    })
  }

  it('names in a basis what counts now', () => {
    for (const vector of vectors.basis_for_run) expect(basisForRun(known, vector.sheet, vector.tool)).toEqual(vector.basis)
  })

  it('keeps every description of a tool', () => {
    expect(toolsOf(known).map((tool) => tool.entry)).toEqual(vectors.tools_of)
  })
})

describe('what a sheet still waits on', () => {
  for (const vector of holds.cases) {
    it(vector.name, () => {
      expect(openHolds(vector as any, vector.measured as any, vector.ticked)).toEqual(vector.open)
    })
  }
})
