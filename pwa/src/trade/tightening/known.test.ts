import { describe, expect, it } from 'vitest'
import holds from '../../../../tests/vectors/tightening_holds.json'
import vectors from '../../../../tests/vectors/tightening_known.json'
import { openHolds } from './holds.ts'
import { basisForRun, knownTightening, sheetFor, sheetOf, toolsOf } from './known.ts'

describe('which sheet and which tool counts', () => {
  const known = knownTightening(vectors.said as any)

  for (const one of vectors.sheet_for) {
    it(`has the sheet to ${one.direction} ${one.joint}, or none`, () => {
      expect(sheetFor(known, one.engine_type, one.joint, one.direction)?.entry ?? null).toBe(one.entry)
    })
  }

  for (const one of vectors.sheet_of) {
    it(`has the sheet of a run: ${one.name}`, () => {
      expect(sheetOf(known, one.begun, one.claimed)?.entry ?? null).toBe(one.entry)
    })
  }

  it('names in a basis what counts now', () => {
    for (const one of vectors.basis_for_run) expect(basisForRun(known, one.sheet, one.tool)).toEqual(one.basis)
  })

  it('keeps every description of a tool', () => {
    expect(toolsOf(known).map((tool) => tool.entry)).toEqual(vectors.tools_of)
  })
})

describe('what a sheet still waits on', () => {
  for (const one of holds.cases) {
    it(one.name, () => {
      expect(openHolds(one as any, one.measured as any, one.ticked)).toEqual(one.open)
    })
  }
})
