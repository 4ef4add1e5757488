// Where on a measurement sheet a spoken figure belongs.

import { say } from '../frame/say.ts'
import { twoPoints } from '../speaking/spoken.ts'
import type { Asked, Sheet } from '../../trade/sheets/types.ts'
import type { Proposal } from '../../trade/spoken/types.ts'
import { type Cell, isTaken } from './grid.ts'

/** Words of a point as they are compared: 'top, thrust' as it is written and 'top thrust' as it is spoken. */
const bare = (words: string) => words.toLowerCase().replace(/[^a-z0-9]+/g, ' ').trim()

export interface Belongs {
  cell: Cell | null
  /** Why it belongs nowhere on this measurement sheet, in a sentence. */
  why: string
}

/**
 * The cell of a sheet that a spoken figure belongs to: the place and the point as spoken, else as lit. A quantity that was
 * spoken has to be that of the reading. `missing` gives the first reading that is still wanted at a place.
 */
export function cellFor(sheet: Sheet, proposal: Proposal, lit: Cell | null, missing: (place: string) => Cell | null): Belongs {
  if (proposal.asks.includes('point')) return { cell: null, why: twoPoints() }
  const place = proposal.place_spoken ? proposal.place : (lit?.place ?? proposal.place)
  const at = sheet.places.find((row) => row.place === place)
  if (!at) return { cell: null, why: say('speaking.no_such_place') }
  const fits = (reading: Asked) => !proposal.quantity_spoken || reading.quantity === proposal.quantity
  const point = bare(proposal.point)
  const named = point ? sheet.readings_asked.filter((reading) => bare(reading.words) === point) : []
  const reading = named.find(fits) ?? litReading(sheet, lit, place, fits) ?? sheet.readings_asked.find((next) => next.code === missing(place)?.reading && fits(next))
  if (reading) return { cell: { place, reading: reading.code }, why: '' }
  const possible = sheet.readings_asked.filter(fits)
  if (possible.length === 0) return { cell: null, why: say('speaking.no_such_reading') }
  const open = possible.find(({ code }) => !isTaken(at.readings[code]))
  return open ? { cell: { place, reading: open.code }, why: '' } : { cell: null, why: say('speaking.all_taken') }
}

function litReading(sheet: Sheet, lit: Cell | null, place: string, fits: (reading: Asked) => boolean): Asked | undefined {
  return lit?.place === place ? sheet.readings_asked.find((reading) => reading.code === lit.reading && fits(reading)) : undefined
}
