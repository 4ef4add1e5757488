// Where on a sheet a spoken figure belongs.

import { type Cell, isTaken } from './grid.ts'
import { TWO_POINTS } from '../speaking/spoken.ts'
import type { Sheet, Asked } from '../../trade/sheets/types.ts'
import type { Proposal } from '../../trade/spoken/types.ts'

/** Words of a point as they are compared: 'top, thrust' as it is written and 'top thrust' as it is said. */
const bare = (words: string) => words.toLowerCase().replace(/[^a-z0-9]+/g, ' ').trim()

export interface Belongs {
  cell: Cell | null
  /** Why it belongs nowhere on this sheet, in a sentence. */
  why: string
}

/**
 * The cell of a sheet that a spoken figure belongs to: the place and the point as said, else as lit. A quantity that was
 * said has to be that of the reading. `missing` tells the first reading that is still asked for at a place.
 */
export function cellFor(sheet: Sheet, proposal: Proposal, lit: Cell | null, missing: (place: string) => Cell | null): Belongs {
  if (proposal.asks.includes('point')) return { cell: null, why: TWO_POINTS }
  const place = proposal.place_spoken ? proposal.place : (lit?.place ?? proposal.place)
  const at = sheet.places.find((one) => one.place === place)
  if (!at) return { cell: null, why: 'This sheet has no such place. Touch the place to choose one.' }
  const fits = (one: Asked) => !proposal.quantity_spoken || one.quantity === proposal.quantity
  const said = bare(proposal.point)
  const named = said ? sheet.readings_asked.filter((one) => bare(one.words) === said) : []
  const reading = named.find(fits) ?? litReading(sheet, lit, place, fits) ?? sheet.readings_asked.find((one) => one.code === missing(place)?.reading && fits(one))
  if (reading) return { cell: { place, reading: reading.code }, why: '' }
  const possible = sheet.readings_asked.filter(fits)
  if (possible.length === 0) return { cell: null, why: 'This sheet does not read that. Touch the place to choose a reading, or say it again under One reading.' }
  const open = possible.find((one) => !isTaken(at.readings[one.code]))
  return open ? { cell: { place, reading: open.code }, why: '' } : { cell: null, why: 'All is read here. Choose which reading it is.' }
}

function litReading(sheet: Sheet, lit: Cell | null, place: string, fits: (one: Asked) => boolean): Asked | undefined {
  return lit?.place === place ? sheet.readings_asked.find((one) => one.code === lit.reading && fits(one)) : undefined
}
