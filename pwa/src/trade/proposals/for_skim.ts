// What a planned skim does to the compression ratio, and the gasket that makes it good, in words. The twin of
// trade/skim_proposal.py.

import { MOST_PLACES } from '../ground/amounts.ts'
import { type Asked, given, proposal } from './parts.ts'
import type { Proposal, ProposalInput } from './types.ts'
import { ASSUMED, FORMULA, gasketFor } from './ratio.ts'
import { decimalText, fromSi } from '../ground/units.ts'

const CAUTIONS = [
  ASSUMED,
  "The maker's least height of head and block counts before any ratio: measure it.",
  'A skim also brings valves nearer to pistons and slackens chains and belts over it: check both.',
]
const SIZES = [
  ['stroke', 'stroke'],
  ['gasket_bore', 'bore of the gasket'],
  ['gasket_thickness', 'gasket, compressed'],
] as const

/** One proposal for all chambers with a planned skim. Ratios are the figures of the sheet. */
export function proposals(asked: Asked): Proposal[] {
  const lines: string[] = []
  const inputs: ProposalInput[] = []
  for (const place of asked.sheet.places) {
    const [skim, bore] = [asked.reading(place, 'skim'), asked.reading(place, 'bore')]
    const [before, after] = [asked.figure(place, 'ratio'), asked.figure(place, 'ratio_after')]
    if (!skim || !before || !after) continue
    let line = `${place.name}: ${decimalText(before.si, 2)} now, ${decimalText(after.si, 2)} after a skim of ${skim.text}.`
    const gasket = asked.single('gasket_bore', place.place)
    if (bore && gasket && gasket.si.over > 0n) {
      const thicker = fromSi(gasketFor(skim.si, bore.si, gasket.si), skim.unit)
      const shown = decimalText(thicker, Math.min(skim.places + 1, MOST_PLACES))
      line += ` A gasket ${shown} ${skim.unit} thicker keeps it as it is.`
    }
    lines.push(line)
    inputs.push(...given(`skim, ${place.name}`, [skim]))
  }
  if (!lines.length) return []
  for (const [code, name] of SIZES) inputs.push(...given(name, asked.size(code)))
  return [proposal('ratio', `${asked.sheet.name} after the skim`, lines, FORMULA, { inputs, cautions: CAUTIONS })]
}
