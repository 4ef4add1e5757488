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

const quantityOf = (code: string): Quantity | undefined => QUANTITIES.find((quantity) => quantity.code === code)

/** The proposal that a line of speech comes to. Never throws, whatever was said. */
export function read(text: string, screen: Screen, engine: EngineType | null, own: OwnWord[] = []): Proposal {
  const words = tokens(text)
  if (words.length > MOST_TOKENS) {
    return { ...nothing(screen), asks: ['again'], left: words.map((token) => token.raw) }
  }
  const enginePlaces = engine ? places(engine) : null
  const spans = segments(items(words, index(own))).map(({ correction, items: some }): [string, Slots] => [
    correction,
    slots(some, screen, engine, enginePlaces),
  ])
  return proposal(merged(spans), screen)
}

function nothing(screen: Screen): Proposal {
  return {
    place: screen.place, place_spoken: false, point: screen.point, quantity: screen.quantity, quantity_spoken: false,
    value: '', value_to: '', unit: '', conditions: [], disposition: '', asks: [], maybe: [], withdrawn: false, left: [],
  }
}

function proposal(slots: Slots, screen: Screen): Proposal {
  const draft = { ...nothing(screen), withdrawn: slots.withdrawn, left: slots.left }
  if (slots.withdrawn) return draft
  const asks: Ask[] = []
  if (slots.placeNamed) {
    // Another place than the screen's: its point is not that of the screen.
    if (slots.place !== screen.place && !slots.placeFromScreen) draft.point = ''
    Object.assign(draft, { place: slots.place, place_spoken: true })
  }
  if (slots.placeFromScreen) Object.assign(draft, { place: screen.place, place_spoken: false })
  if (slots.point) draft.point = onScreen(slots.point, screen)
  const { conditions, disposition, value, valueTo, unit, maybe } = slots
  Object.assign(draft, { conditions, disposition, value, value_to: valueTo, unit, maybe })
  setQuantity(draft, slots)
  if (!draft.place) asks.push('place')
  if (slots.pointDoubt) asks.push('point')
  const measuring = isMeasured(screen, draft, slots)
  if (measuring) asksOfMeasurement(draft, slots, asks)
  else if (!draft.unit) Object.assign(draft, { value: '', value_to: '', maybe: [] })
  if (slots.conditionDoubt) asks.push('condition')
  if (slots.dispositionDoubt) asks.push('disposition')
  if (slots.unknown >= (measuring ? 1 : TALK) && 2 * slots.unknown >= slots.known) asks.push('again')
  draft.asks = [...new Set(asks)]
  return draft
}

function setQuantity(draft: Proposal, slots: Slots): void {
  if (slots.quantity) Object.assign(draft, { quantity: slots.quantity, quantity_spoken: true })
  else if (slots.quantityDoubt) Object.assign(draft, { quantity: '', quantity_spoken: true })
  else if (!draft.quantity && slots.unit) draft.quantity = onlyQuantity(UNITS[slots.unit]!.kind)
}

/** The one quantity that such a unit can be of: newton metres are a torque. A share may be of anything. */
function onlyQuantity(kind: string): string {
  const fitting = QUANTITIES.filter((quantity) => quantity.kind === kind)
  return fitting.length === 1 && kind !== 'share' ? fitting[0]!.code : ''
}

function isMeasured(screen: Screen, draft: Proposal, slots: Slots): boolean {
  if (screen.sort === 'measure' || screen.sort === 'tighten') return true
  const figure = draft.value !== '' || slots.digitsDoubt
  const isNamed = slots.quantity !== '' || (slots.quantityDoubt && !slots.otherFigure)
  if (screen.sort === 'finding' || !(figure || isNamed)) return false
  // "Crankpin five scored", of an engine that has three, and "a crack of two inches" are no measurements.
  return isNamed || draft.quantity !== '' || !(slots.conditions.length || slots.disposition)
}

function asksOfMeasurement(draft: Proposal, slots: Slots, asks: Ask[]): void {
  if (!draft.quantity) asks.push('quantity')
  if (slots.digitsDoubt) asks.push('digits')
  else if (!draft.value || draft.value_to) asks.push('value')
  const kind = quantityOf(draft.quantity)?.kind ?? ''
  if (draft.unit && kind && UNITS[draft.unit]!.kind !== kind) {
    draft.unit = ''
    asks.push('unit')
  } else if (slots.unitDoubt || (!draft.unit && kind !== 'number')) asks.push('unit')
}

/** The proposal in words: "bore 3, top, thrust: 88.94 mm"; "piston 2: scuffed; replace". */
export function sentenceOf(draft: Proposal, engine: EngineType | null): string {
  const where = [draft.place && placeName(engine, draft.place), draft.point].filter(Boolean).join(', ')
  const value = draft.value + (draft.value_to ? ` to ${draft.value_to}` : '')
  const quantity = draft.quantity_spoken ? (quantityOf(draft.quantity)?.words ?? '') : ''
  const what = [
    [quantity, value && withUnit(value, draft.unit)].filter(Boolean).join(' '),
    draft.conditions.join(', '),
    draft.disposition && dispositionWords(draft.disposition),
  ]
  const rest = what.filter(Boolean).join('; ')
  return where && rest ? `${where}: ${rest}` : where || rest
}
