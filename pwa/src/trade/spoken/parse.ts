// What somebody says, as a proposal: place, quantity, value, unit, condition, disposition, and what is still missing. The
// twin of trade/spoken/parse.py. A proposal is offered to a person and never recorded without a tap; nothing is guessed.

import { placeName, places } from '../engine/locations.ts'
import type { EngineType } from '../engine/parts.ts'
import { segments } from './corrections.ts'
import { items } from './items.ts'
import { merged } from './merge.ts'
import { onScreen } from './points.ts'
import { slots, type Slots } from './slots.ts'
import { MOST_TOKENS, tokens } from './text.ts'
import type { Ask, OwnWord, Proposal, Screen } from './types.ts'
import { dispositionWords, index } from './words.ts'
import { QUANTITIES, UNITS, type Quantity, withUnit } from '../ground/units.ts'

/** So many words without a meaning, and half as many as had one, are talk; beside a figure one is enough. */
const TALK = 3

const quantityOf = (code: string): Quantity | undefined => QUANTITIES.find((one) => one.code === code)

/** The proposal that a line of speech comes to. Never throws, whatever was said. */
export function read(text: string, screen: Screen, engine: EngineType | null, own: OwnWord[] = []): Proposal {
  const found = tokens(text)
  if (found.length > MOST_TOKENS) {
    return { ...nothing(screen), asks: ['again'], left: found.map((token) => token.raw) }
  }
  const enginePlaces = engine ? places(engine) : null
  const said = segments(items(found, index(own))).map(({ correction, items: some }): [string, Slots] => [
    correction,
    slots(some, screen, engine, enginePlaces),
  ])
  return proposal(merged(said), screen)
}

function nothing(screen: Screen): Proposal {
  return {
    place: screen.place, place_spoken: false, point: screen.point, quantity: screen.quantity, quantity_spoken: false,
    value: '', value_to: '', unit: '', conditions: [], disposition: '', asks: [], maybe: [], withdrawn: false, left: [],
  }
}

function proposal(said: Slots, screen: Screen): Proposal {
  const found = { ...nothing(screen), withdrawn: said.withdrawn, left: said.left }
  if (said.withdrawn) return found
  const asks: Ask[] = []
  if (said.placeNamed) {
    // Another place than the screen's: its point is not that of the screen.
    if (said.place !== screen.place && !said.placeFromScreen) found.point = ''
    Object.assign(found, { place: said.place, place_spoken: true })
  }
  if (said.placeFromScreen) Object.assign(found, { place: screen.place, place_spoken: false })
  if (said.point) found.point = onScreen(said.point, screen)
  const { conditions, disposition, value, valueTo, unit, maybe } = said
  Object.assign(found, { conditions, disposition, value, value_to: valueTo, unit, maybe })
  setQuantity(found, said)
  if (!found.place) asks.push('place')
  if (said.pointDoubt) asks.push('point')
  const measuring = isMeasured(screen, found, said)
  if (measuring) asksOfMeasurement(found, said, asks)
  else if (!found.unit) Object.assign(found, { value: '', value_to: '', maybe: [] })
  if (said.conditionDoubt) asks.push('condition')
  if (said.dispositionDoubt) asks.push('disposition')
  if (said.unknown >= (measuring ? 1 : TALK) && 2 * said.unknown >= said.known) asks.push('again')
  found.asks = [...new Set(asks)]
  return found
}

function setQuantity(found: Proposal, said: Slots): void {
  if (said.quantity) Object.assign(found, { quantity: said.quantity, quantity_spoken: true })
  else if (said.quantityDoubt) Object.assign(found, { quantity: '', quantity_spoken: true })
  else if (!found.quantity && said.unit) found.quantity = onlyQuantity(UNITS[said.unit]!.kind)
}

/** The one quantity that such a unit can be of: newton metres are a torque. A share may be of anything. */
function onlyQuantity(kind: string): string {
  const fitting = QUANTITIES.filter((one) => one.kind === kind)
  return fitting.length === 1 && kind !== 'share' ? fitting[0]!.code : ''
}

function isMeasured(screen: Screen, found: Proposal, said: Slots): boolean {
  if (screen.sort === 'measure' || screen.sort === 'tighten') return true
  const figure = found.value !== '' || said.digitsDoubt
  const asked = said.quantity !== '' || (said.quantityDoubt && !said.otherFigure)
  if (screen.sort === 'finding' || !(figure || asked)) return false
  // "Crankpin five scored", of an engine that has three, and "a crack of two inches" are no measurements.
  return asked || found.quantity !== '' || !(said.conditions.length || said.disposition)
}

function asksOfMeasurement(found: Proposal, said: Slots, asks: Ask[]): void {
  if (!found.quantity) asks.push('quantity')
  if (said.digitsDoubt) asks.push('digits')
  else if (!found.value || found.value_to) asks.push('value')
  const kind = quantityOf(found.quantity)?.kind ?? ''
  if (found.unit && kind && UNITS[found.unit]!.kind !== kind) {
    found.unit = ''
    asks.push('unit')
  } else if (said.unitDoubt || (!found.unit && kind !== 'number')) asks.push('unit')
}

/** The proposal in words: "bore 3, top, thrust: 88.94 mm"; "piston 2: scuffed; replace". */
export function said(one: Proposal, engine: EngineType | null): string {
  const where = [one.place && placeName(engine, one.place), one.point].filter(Boolean).join(', ')
  const value = one.value + (one.value_to ? ` to ${one.value_to}` : '')
  const quantity = one.quantity_spoken ? (quantityOf(one.quantity)?.words ?? '') : ''
  const what = [
    [quantity, value && withUnit(value, one.unit)].filter(Boolean).join(' '),
    one.conditions.join(', '),
    one.disposition && dispositionWords(one.disposition),
  ]
  const rest = what.filter(Boolean).join('; ')
  return where && rest ? `${where}: ${rest}` : where || rest
}
