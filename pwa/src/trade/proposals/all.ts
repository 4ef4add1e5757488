// Proposals from sheets of figures: the machining step, the shims, the ratio after a skim, what a fit will ask for. The
// twin of trade/proposals.py. A proposal decides nothing. It names what went in with its source, the formula, what to
// mind, and the reading that forces it.

import * as fit from './for_fit.ts'
import type { Known } from '../measuring/known.ts'
import * as machining from './for_machining.ts'
import { Asked } from './parts.ts'
import type { Proposal } from './types.ts'
import type { Sheet } from '../sheets/types.ts'
import * as shim from './for_shims.ts'
import * as skim from './for_skim.ts'

const MAKERS = [machining.proposals, shim.proposals, shim.preload, skim.proposals, fit.proposals]

/**
 * All proposals for the sheets of one job. Parts that were measured again after machining get none from the sheet
 * before it.
 */
export function proposals(sheets: Sheet[], known: Known, engineType: { id: string } | null): Proposal[] {
  const done = new Set(sheets.filter((sheet) => sheet.state !== 'as_found').map((sheet) => sheet.procedure))
  return sheets
    .filter((sheet) => sheet.state !== 'as_found' || !done.has(sheet.procedure))
    .flatMap((sheet) => MAKERS.flatMap((make) => make(new Asked(sheet, known, engineType?.id ?? ''))))
}
