// What a measured interference asks for: how warm the outer part must be before it is as wide as the inner one. The twin
// of trade/fit_proposal.py.

import { compare, largest, minus, NOTHING, whole } from './amounts.ts'
import { HEAT_FORMULA, heatCautions, heatForSlip } from './press_fit.ts'
import { type Asked, given, proposal } from './proposal_parts.ts'
import type { Proposal, ProposalInput } from './proposal_types.ts'
import { expansion } from './uncertainty.ts'
import type { Fraction } from './units.ts'

const NO_MATERIAL = 'The material of the outer part is not stated for this engine type, so no temperature is given.'
const SLIP = 'At that temperature there is no slip yet: add the slip you want and the way to the press on the sheet Fits.'

/** One proposal for all places where the inner part is larger than its hole. */
export function proposals(asked: Asked): Proposal[] {
  const lines: string[] = []
  const inputs: ProposalInput[] = []
  let hottest = whole(20)
  const alpha = expansion(asked.text('material'))
  const [outer, inner] = [asked.words('hole'), asked.words('shaft')]
  for (const place of asked.sheet.places) {
    const [hole, shaft] = [asked.reading(place, 'hole'), asked.reading(place, 'shaft')]
    if (!hole || !shaft || hole.si.over <= 0n || compare(shaft.si, hole.si) <= 0) continue
    const over = minus(shaft.si, hole.si)
    let line = `${place.name}: ${hole.say(over)} of interference.`
    if (alpha) {
      const warm = heatForSlip(hole.si, over, NOTHING, alpha)
      hottest = largest([hottest, warm])
      line += ` From ${ceiling(warm)} °C on the ${outer} is as wide as the ${inner} at 20 °C.`
    }
    lines.push(line)
    inputs.push(...given(`${outer}, ${place.name}`, [hole]), ...given(`${inner}, ${place.name}`, [shaft]))
  }
  if (!lines.length) return []
  lines.push(alpha ? SLIP : NO_MATERIAL)
  const cautions = heatCautions(hottest)
  return [proposal('fit', `${asked.sheet.name}: interference`, lines, HEAT_FORMULA, { inputs, cautions })]
}

// Of amounts above zero, which a temperature that opens a hole is.
const ceiling = (a: Fraction): string => String((a.over + a.under - 1n) / a.under)
