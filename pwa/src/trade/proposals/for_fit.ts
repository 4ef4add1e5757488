// What a measured interference asks for: how warm the outer part must be before it is as wide as the inner one. The twin
// of trade/fit_proposal.py.

import { largest, minus, NOTHING, whole } from '../ground/amounts.ts'
import { HEAT_FORMULA, heatCautions, heatForSlip } from './press_fit.ts'
import { Amount, type Asked, given, proposal } from './parts.ts'
import type { Proposal, ProposalInput } from './types.ts'
import type { SheetPlace } from '../sheets/types.ts'
import { expansion } from '../measuring/uncertainty.ts'
import type { Fraction } from '../ground/units.ts'

const NO_MATERIAL = 'The material of the outer part is not stated for this engine type, so no temperature is given.'
const [AT_20, AS_READ] = ['as at 20 °C', 'as read']
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
    if (!hole || !shaft || hole.si.over <= 0n) continue
    const figure = atReference(asked, place)
    const over = figure?.si ?? minus(shaft.si, hole.si)
    if (over.over <= 0n) continue
    let line = `${place.name}: ${(figure ?? hole).say(over)} of interference, ${figure ? AT_20 : AS_READ}.`
    if (alpha) {
      const warm = heatForSlip(hole.si, over, NOTHING, alpha)
      hottest = largest([hottest, warm])
      line += ` From ${ceiling(warm)} °C on the ${outer} is as wide as the ${inner} at 20 °C.`
    }
    lines.push(line)
    inputs.push(...given(`${outer}, ${place.name}`, [hole]), ...given(`${inner}, ${place.name}`, [shaft]))
    inputs.push(...given(`interference ${AT_20}, ${place.name}`, [figure]))
  }
  if (!lines.length) return []
  lines.push(alpha ? SLIP : NO_MATERIAL)
  const cautions = heatCautions(hottest)
  return [proposal('fit', `${asked.sheet.name}: interference`, lines, HEAT_FORMULA, { inputs, cautions })]
}

/** The interference that the sheet shows as at 20 °C; null where its figure stands as read. */
function atReference(asked: Asked, place: SheetPlace): Amount | null {
  for (const code of ['interference', 'clearance']) {
    if (!place.figures.some((one) => one.code === code && one.corrected)) continue
    const found = asked.figure(place, code)
    if (!found) continue
    const si = code === 'interference' ? found.si : minus(NOTHING, found.si)
    return new Amount(si, found.unit, found.places, "the sheet's figure")
  }
  return null
}

// Of amounts above zero, which a temperature that opens a hole is.
const ceiling = (a: Fraction): string => String((a.over + a.under - 1n) / a.under)
