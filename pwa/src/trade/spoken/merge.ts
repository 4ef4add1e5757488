// What was said first and what was said anew, as one: a correction replaces what it says again and leaves the rest. The
// twin of trade/spoken/merge.py.

import type { Slots } from './slots.ts'

/** All breaths of a line, each with its correction, as one. */
export function merged(segments: [correction: string, slots: Slots][]): Slots {
  const [first, ...rest] = segments
  let whole = first![1]
  for (const [correction, slots] of rest) {
    if (correction === 'withdraw') whole = { ...slots, withdrawn: slots.known === 0 }
    else if (correction === 'unsure') whole = unsure(whole, slots)
    else whole = replaced(whole, slots)
  }
  return whole
}

/** "piston three cracked, scrap that": the words or the piston? Without a thing that can be scrapped, the words. */
function unsure(before: Slots, after: Slots): Slots {
  if (before.conditions.length || before.place) return { ...before, disposition: '', dispositionDoubt: true }
  return { ...after, withdrawn: true }
}

function replaced(before: Slots, after: Slots): Slots {
  const whole = {
    ...before,
    left: [...before.left, ...after.left],
    known: before.known + after.known,
    unknown: before.unknown + after.unknown,
    otherFigure: before.otherFigure || after.otherFigure,
  }
  if (after.placeNamed || after.placeFromScreen) {
    const { place, placeNamed, placeFromScreen } = after
    Object.assign(whole, { place, placeNamed, placeFromScreen })
    // The same height and direction, on another bore.
    const samePart = before.place.split('/')[0] === after.place.split('/')[0]
    if (!after.point) whole.point = samePart ? before.point : ''
  }
  if (after.point || after.pointDoubt) Object.assign(whole, { point: after.point, pointDoubt: after.pointDoubt })
  if (after.quantity || after.quantityDoubt) {
    Object.assign(whole, { quantity: after.quantity, quantityDoubt: after.quantityDoubt })
  }
  if (after.value || after.digitsDoubt) valueAnew(whole, before, after)
  if (after.unit || after.unitDoubt) Object.assign(whole, { unit: after.unit, unitDoubt: after.unitDoubt })
  if (after.conditions.length) {
    Object.assign(whole, { conditions: after.conditions, conditionDoubt: after.conditionDoubt })
  }
  if (after.disposition || after.dispositionDoubt) {
    Object.assign(whole, { disposition: after.disposition, dispositionDoubt: after.dispositionDoubt })
  }
  return whole
}

function valueAnew(whole: Slots, before: Slots, after: Slots): void {
  const { value, valueTo, digitsDoubt, maybe } = after
  Object.assign(whole, { value, valueTo, digitsDoubt, maybe })
  const [left, decimals] = before.value.split('.')
  if (!value || decimals === undefined || left === '0' || left === '-0') return
  // "eighty eight point nine four, no, nine five": the end of it anew, or the whole?
  let ends: string[]
  if (!value.includes('.')) ends = value.length <= decimals.length ? [`${left}.${value}`] : []
  else if (value.startsWith('0.')) ends = [`${left}.${value.slice(2)}`]
  else return
  Object.assign(whole, { maybe: [...ends, value], value: '', valueTo: '', digitsDoubt: true })
}
